"""Measures of known masks by scikit-image's regionprops, frozen in region-measures.known.json.

Run: /usr/bin/python3 test/photos/region-measures.py (needs python3-skimage, with its sample of coins).
The masks are written with the measures, as runs, so that the comparison needs no Python.
"""
import json
import math
import os

import numpy as np
import skimage
from scipy import ndimage
from skimage import data, filters, measure, morphology


def runs(mask):
    out = []
    for y, row in enumerate(mask):
        edge = np.flatnonzero(np.diff(np.concatenate(([0], row.astype(int), [0]))))
        for a, b in zip(edge[::2], edge[1::2]):
            out += [y, int(a), int(b)]
    return out


def shape(inside, size=128, turn=0.3):
    y, x = np.mgrid[0:size, 0:size] + 0.5 - size / 2
    u = x * math.cos(turn) + y * math.sin(turn)
    v = -x * math.sin(turn) + y * math.cos(turn)
    return inside(u, v)


SHAPES = {
    "disc 5": (lambda u, v: u * u + v * v <= 25, math.pi * 25, 10, 2 * math.pi * 5),
    "disc 20": (lambda u, v: u * u + v * v <= 400, math.pi * 400, 40, 2 * math.pi * 20),
    "disc 50": (lambda u, v: u * u + v * v <= 2500, math.pi * 2500, 100, 2 * math.pi * 50),
    "square 30": (lambda u, v: (abs(u) <= 15) & (abs(v) <= 15), 900, 30 * math.sqrt(2), 120),
    "rectangle 80 x 16": (lambda u, v: (abs(u) <= 40) & (abs(v) <= 8), 1280, math.hypot(80, 16), 192),
    "rectangle 100 x 5": (lambda u, v: (abs(u) <= 50) & (abs(v) <= 2.5), 500, math.hypot(100, 5), 210),
    # Perimeter of the 2:1 ellipse with semi-axes 2 and 1 is 9.688448.
    "ellipse 60 x 30": (lambda u, v: (u / 30) ** 2 + (v / 15) ** 2 <= 1, math.pi * 450, 60, 9.688448 * 15),
}


def told(mask):
    (p,) = measure.regionprops(mask.astype(np.uint8))
    return {
        "area": float(p.area),
        "feret_max": float(p.feret_diameter_max),
        "perimeter": float(p.perimeter),
        "perimeter_crofton": float(p.perimeter_crofton),
        "solidity": float(p.solidity),
    }


cases = []
for name, (inside, area, feret, perimeter) in SHAPES.items():
    mask = shape(inside)
    cases.append(
        {
            "name": name,
            "exact": {"area": area, "feret_max": feret, "perimeter": perimeter},
            "regionprops": told(mask),
            "width": mask.shape[1],
            "height": mask.shape[0],
            "runs": runs(mask),
        }
    )

coins = data.coins()
high = ndimage.binary_fill_holes(
    filters.sobel(coins / 255) > 0.06
)
high = morphology.remove_small_objects(ndimage.binary_opening(high, iterations=4), 300)
label = measure.label(high)
for p in measure.regionprops(label):
    y0, x0, y1, x1 = p.bbox
    own = np.pad(p.image, 2)
    cases.append(
        {
            "name": f"coin {p.label}",
            "exact": None,
            "regionprops": told(own),
            "width": own.shape[1],
            "height": own.shape[0],
            "runs": runs(own),
        }
    )

here = os.path.dirname(os.path.abspath(__file__))
with open(os.path.join(here, "region-measures.known.json"), "w") as out:
    json.dump({"source": f"scikit-image {skimage.__version__}, regionprops", "cases": cases}, out, separators=(",", ":"))
    out.write("\n")
print(len(cases), "cases")
