"""Numbers of the laws, made by tools/fit_propeller.py; not edited by hand.

Data: UIUC Propeller Database, volumes 1 to 3 (129 propellers of 23 makes); see
docs/rooms/power-propeller.md.
"""

from typing import Any

FITTED: dict[str, Any] = {
    "section": {
        "slope": 6.82538,
        "slope_reynolds": 0.01557,
        "top_lift": 1.65689,
        "top_reynolds": -0.03677,
        "top_inboard": 0.82044,
        "low_lift": 0.74186,
        "drag": 0.01938,
        "drag_reynolds": 0.63319,
        "drag_lift": 0.04833,
        "best_lift": 0.68692,
        "drag_incidence": 1.3071,
        "zero_reynolds": 0.01905,
    },
    "chord": [0.1492, 0.1708, 0.1999, 0.2063, 0.1921, 0.1634, 0.1259, 0.0622],
    "twist": [-0.2418, -0.0932, -0.028, 0.006, 0.0127, 0.0094, -0.0033, -0.0386],
    "tiers": {
        "nominal": {
            "angle": 0.04183,
            "chord": [-0.114, -0.1361, -0.0657, 0.0],
            "drag": 0.0105,
            "class_angle": {},
            "class_chord": {},
            "spread": [0.0297, 0.12, 0.08],
            "bands": {"ct": [0.1586, 0.1369, 0.142], "cp": [0.1988, 0.1964, 0.1969]},
            "bands_read": {"ct": [0.0468, 0.0853, 0.1136], "cp": [0.1565, 0.1485, 0.1812]},
        },
        "class": {
            "angle": 0.04183,
            "chord": [-0.114, -0.1361, -0.0657, 0.0],
            "drag": 0.0105,
            "class_angle": {"multirotor": -0.0675},
            "class_chord": {"multirotor": -0.0346},
            "spread": [0.0297, 0.12, 0.08],
            "bands": {"ct": [0.1586, 0.1369, 0.142], "cp": [0.1988, 0.1964, 0.1969]},
            "bands_read": {"ct": [0.0468, 0.0853, 0.1136], "cp": [0.1565, 0.1485, 0.1812]},
        },
        "width": {
            "angle": 0.04183,
            "chord": [-0.062, -0.0885, 0.0, 0.58],
            "drag": 0.0105,
            "class_angle": {"multirotor": -0.0675},
            "class_chord": {},
            "spread": [0.0332, 0.08, 0.08],
            "bands": {"ct": [0.1496, 0.153, 0.1553], "cp": [0.2042, 0.2255, 0.2176]},
            "bands_read": {"ct": [0.0449, 0.0939, 0.1246], "cp": [0.1241, 0.1406, 0.1537]},
        },
        "geometry": {
            "angle": 0.04831,
            "chord": [0.0002, 0.0, 0.0, 0.0],
            "drag": -0.0026,
            "class_angle": {
                "direct drive": -0.0069,
                "folding": 0.0075,
                "free flight": -0.0121,
                "micro": -0.0,
                "research": -0.0154,
                "slow flyer": 0.0263,
                "sport": 0.0051,
                "thin electric": -0.0013,
            },
            "class_chord": {},
            "spread": [0.0262, 0.07, 0.08],
            "bands": {"ct": [0.112, 0.1039, 0.0993], "cp": [0.1523, 0.1494, 0.1547]},
            "bands_read": {"ct": [0.038, 0.0654, 0.0775], "cp": [0.0954, 0.0923, 0.1001]},
        },
    },
}
