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
            "angle": 0.04769,
            "chord": [-0.1276, -0.1383, 0.0782, 0.0],
            "drag": 0.0107,
            "class_angle": {},
            "class_chord": {},
            "spread": [0.0297, 0.12, 0.08],
            "bands": {"ct": [0.1529, 0.1246, 0.1326], "cp": [0.1848, 0.1754, 0.18]},
            "bands_read": {"ct": [0.0436, 0.084, 0.1099], "cp": [0.1493, 0.144, 0.1707]},
        },
        "class": {
            "angle": 0.04769,
            "chord": [-0.1276, -0.1383, 0.0782, 0.0],
            "drag": 0.0107,
            "class_angle": {},
            "class_chord": {
                "direct drive": 0.031,
                "folding": 0.0641,
                "free flight": -0.0228,
                "micro": -0.0165,
                "research": 0.0612,
                "slow flyer": 0.0351,
                "sport": -0.0427,
                "thin electric": -0.0319,
            },
            "spread": [0.0297, 0.12, 0.08],
            "bands": {"ct": [0.1572, 0.1343, 0.134], "cp": [0.1944, 0.1918, 0.1868]},
            "bands_read": {"ct": [0.044, 0.0856, 0.1173], "cp": [0.148, 0.1403, 0.1682]},
        },
        "width": {
            "angle": 0.04769,
            "chord": [-0.1059, -0.152, 0.0085, 0.2593],
            "drag": 0.0107,
            "class_angle": {},
            "class_chord": {},
            "spread": [0.0332, 0.08, 0.08],
            "bands": {"ct": [0.1692, 0.1531, 0.1482], "cp": [0.2379, 0.2282, 0.2094]},
            "bands_read": {"ct": [0.0443, 0.1043, 0.142], "cp": [0.1245, 0.1517, 0.1805]},
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
            "bands_read": {"ct": [0.0367, 0.0673, 0.0793], "cp": [0.096, 0.0926, 0.0994]},
        },
    },
}
