#!/usr/bin/env python3
"""Packs pictures without a face for draw_eyes and train_eyes: pack_backgrounds.py OUT.bin WIDTH HEIGHT FOLDER..."""
import os
import sys

import numpy as np
from PIL import Image

Image.MAX_IMAGE_PIXELS = None


def main(out, width, height, *folders):
    width, height = int(width), int(height)
    random = np.random.default_rng(1)
    pictures = []
    for folder in folders:
        for root, _, names in sorted(os.walk(folder)):
            for name in sorted(names):
                if not name.lower().endswith((".jpg", ".jpeg", ".png", ".webp")):
                    continue
                try:
                    picture = Image.open(os.path.join(root, name)).convert("RGB")
                except OSError:
                    continue
                w, h = picture.size
                if w < width or h < height:
                    continue
                for k in range(4):
                    part = 1.0 if k == 0 else random.uniform(0.25, 0.8)
                    cw = int(part * min(w, h * width / height))
                    ch = min(h, int(cw * height / width))
                    x, y = random.integers(0, w - cw + 1), random.integers(0, h - ch + 1)
                    crop = picture.crop((x, y, x + cw, y + ch)).resize((width, height), Image.LANCZOS)
                    pictures.append(np.asarray(crop)[:, :, ::-1])
    with open(out, "wb") as file:
        np.array([width, height, len(pictures)], "<i4").tofile(file)
        np.ascontiguousarray(np.stack(pictures)).tofile(file)
    print(len(pictures))


if __name__ == "__main__":
    main(*sys.argv[1:])
