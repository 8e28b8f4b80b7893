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
            "angle": 0.04553,
            "chord": [-0.1235, -0.1212, -0.0448, 0.0],
            "drag": 0.0105,
            "class_angle": {},
            "class_chord": {},
            "spread": [0.0297, 0.12, 0.08],
            "bands": {"ct": [0.1571, 0.1309, 0.1372], "cp": [0.1951, 0.188, 0.1871]},
            "bands_read": {"ct": [0.0459, 0.0836, 0.1092], "cp": [0.1506, 0.1431, 0.1717]},
        },
        "class": {
            "angle": 0.04553,
            "chord": [-0.1235, -0.1212, -0.0448, 0.0],
            "drag": 0.0105,
            "class_angle": {"multirotor": -0.0201},
            "class_chord": {"multirotor": -0.0998},
            "spread": [0.0297, 0.12, 0.08],
            "bands": {"ct": [0.1571, 0.1309, 0.1372], "cp": [0.1951, 0.188, 0.1871]},
            "bands_read": {"ct": [0.0459, 0.0836, 0.1092], "cp": [0.1506, 0.1431, 0.1717]},
        },
        "width": {
            "angle": 0.04553,
            "chord": [-0.062, -0.0885, 0.0, 0.58],
            "drag": 0.0105,
            "class_angle": {"multirotor": -0.0201},
            "class_chord": {},
            "spread": [0.0332, 0.08, 0.08],
            "bands": {"ct": [0.1431, 0.1482, 0.1498], "cp": [0.1989, 0.217, 0.2114]},
            "bands_read": {"ct": [0.0438, 0.0923, 0.1221], "cp": [0.1227, 0.1379, 0.1532]},
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
