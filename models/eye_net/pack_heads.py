#!/usr/bin/env python3
"""Packs the shape space of ICT-FaceKit into one file for draw_eyes: pack_heads.py FACE_X_MODEL_FOLDER heads.bin

FACE_X_MODEL_FOLDER is `FaceXModel` of the repository ICT-VGL/ICT-FaceKit (MIT licence). Kept are skin, eye sockets, mouth and
sclera, millimetres, x to the patient's left, y up, z out of the face. The shapes are offsets from the neutral head, as 16-bit
numbers with a scale each. Layout, little endian: counts (vertices, triangles, identities, expressions, landmarks), vertices,
triangles, material of each triangle (0 skin, 1 mouth and sockets, 2 left sclera, 3 right sclera), landmarks, then for
each shape its scale and offsets.
"""
import os
import sys

import numpy as np

# First and last vertex of each part, by the table in the repository's README.
PARTS = [(0, 11247, 0), (11248, 14061, 1), (21451, 22220, 2), (23021, 23790, 3)]
IDENTITIES = 80
EXPRESSIONS = [
    f"{name}_{side}"
    for name in ("eyeBlink", "eyeSquint", "eyeWide", "eyeLookDown", "eyeLookUp", "eyeLookIn", "eyeLookOut", "cheekSquint",
                 "browDown", "browInnerUp", "browOuterUp", "mouthSmile", "noseSneer")
    for side in ("L", "R")
] + ["jawOpen"]
# Multi-PIE 68 points, by the repository's README.
LANDMARKS = [1225, 1888, 1052, 367, 1719, 1722, 2199, 1447, 966, 3661, 4390, 3927, 3924, 2608, 3272, 4088, 3443, 268, 493, 1914,
             2044, 1401, 3615, 4240, 4114, 2734, 2509, 978, 4527, 4942, 4857, 1140, 2075, 1147, 4269, 3360, 1507, 1542, 1537,
             1528, 1518, 1511, 3742, 3751, 3756, 3721, 3725, 3732, 5708, 5695, 2081, 0, 4275, 6200, 6213, 6346, 6461, 5518, 5957,
             5841, 5702, 5711, 5533, 6216, 6207, 6470, 5517, 5966]


def vertices_of(path):
    with open(path) as lines:
        return np.array([[float(x) for x in line.split()[1:4]] for line in lines if line.startswith("v ")])


def main(folder, out):
    neutral = vertices_of(os.path.join(folder, "generic_neutral_mesh.obj"))
    kept = np.concatenate([np.arange(a, b + 1) for a, b, _ in PARTS])
    new_index = np.full(len(neutral), -1)
    new_index[kept] = np.arange(len(kept))
    material = np.empty(len(neutral), int)
    for a, b, m in PARTS:
        material[a:b + 1] = m
    triangles, materials = [], []
    with open(os.path.join(folder, "generic_neutral_mesh.obj")) as lines:
        for line in lines:
            if not line.startswith("f "):
                continue
            corner = [int(c.split("/")[0]) - 1 for c in line.split()[1:]]
            if any(new_index[c] < 0 for c in corner):
                continue
            for k in range(1, len(corner) - 1):
                triangles.append([new_index[corner[0]], new_index[corner[k]], new_index[corner[k + 1]]])
                materials.append(material[corner[0]])
    shapes = [f"identity{i:03d}" for i in range(IDENTITIES)] + EXPRESSIONS
    with open(out, "wb") as file:
        np.array([len(kept), len(triangles), IDENTITIES, len(EXPRESSIONS), len(LANDMARKS)], "<i4").tofile(file)
        (10 * neutral[kept]).astype("<f4").tofile(file)
        np.array(triangles, "<i4").tofile(file)
        np.array(materials, "<i4").tofile(file)
        new_index[LANDMARKS].astype("<i4").tofile(file)
        for name in shapes:
            offset = 10 * (vertices_of(os.path.join(folder, name + ".obj")) - neutral)[kept]
            scale = max(np.abs(offset).max(), 1e-6) / 32767
            np.array([scale], "<f4").tofile(file)
            np.round(offset / scale).astype("<i2").tofile(file)


if __name__ == "__main__":
    main(*sys.argv[1:])
