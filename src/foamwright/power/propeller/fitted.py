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
    "chord": [0.1506, 0.1711, 0.1998, 0.2078, 0.1952, 0.1672, 0.1297, 0.0642],
    "twist": [-0.2418, -0.0932, -0.028, 0.006, 0.0127, 0.0094, -0.0033, -0.0386],
    "tiers": {
        "nominal": {
            "angle": 0.04513,
            "chord": [-0.1383, -0.1211, -0.0452, 0.0],
            "drag": 0.0099,
            "class_angle": {},
            "class_chord": {},
            "spread": [0.0297, 0.12, 0.08],
            "bands": {"ct": [0.1571, 0.1309, 0.1376], "cp": [0.1952, 0.1879, 0.1871]},
            "bands_read": {"ct": [0.0459, 0.0839, 0.11], "cp": [0.1512, 0.1438, 0.1724]},
        },
        "class": {
            "angle": 0.04513,
            "chord": [-0.1383, -0.1211, -0.0452, 0.0],
            "drag": 0.0099,
            "class_angle": {"multirotor": -0.02},
            "class_chord": {"multirotor": -0.1009},
            "spread": [0.0297, 0.12, 0.08],
            "bands": {"ct": [0.1571, 0.1309, 0.1376], "cp": [0.1952, 0.1879, 0.1871]},
            "bands_read": {"ct": [0.0459, 0.0839, 0.11], "cp": [0.1512, 0.1438, 0.1724]},
        },
        "width": {
            "angle": 0.04513,
            "chord": [-0.1059, -0.152, 0.0085, 0.2593],
            "drag": 0.0099,
            "class_angle": {"multirotor": -0.02},
            "class_chord": {},
            "spread": [0.0332, 0.08, 0.08],
            "bands": {"ct": [0.1706, 0.1531, 0.1495], "cp": [0.2429, 0.2319, 0.2118]},
            "bands_read": {"ct": [0.0465, 0.1019, 0.138], "cp": [0.1237, 0.1479, 0.1782]},
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
