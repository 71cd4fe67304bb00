#!/usr/bin/env python3
"""Trains the two parts of the eye finder: train_eyes.py finder|reader DATA NEGATIVES OUT MINUTES [RESUME.pt]

DATA: folder with the files of draw_eyes; those whose name begins with `held` are never trained on, only scored. NEGATIVES: folder
of pictures without a face. Writes OUT.onnx (batch normalisation folded in), OUT.pt to go on from, and prints scores. It needs PyTorch and
onnx, and runs with or without a GPU. Shards that appear while it runs are taken up.
"""
import glob
import os
import sys
import time

import numpy as np
import torch
import torch.nn as nn
import torch.nn.functional as F

RECORD = np.dtype([("frame", "u1", (96, 160, 3)), ("crops", "u1", (3, 84, 112, 3)), ("truth", "<f4", (4, 2, 24)),
                   ("distance", "<f4")])
CROP_W, CROP_H = 64, 48      # what the reader sees
CROP_RADIUS = 7.5            # pixels of the iris in it, when size and place are guessed rightly
STRIDE = 4                   # of the finder's answer
DEVICE = torch.device("cuda" if torch.cuda.is_available() else "cpu")


# ---------------------------------------------------------------- networks

def block(inputs, outputs, stride=1, dilation=1):
    return nn.Sequential(nn.Conv2d(inputs, outputs, 3, stride, dilation, dilation, bias=False), nn.BatchNorm2d(outputs),
                         nn.ReLU(inplace=True))


class Finder(nn.Module):
    """Picture (3 x 96 x 160) to maps a quarter as large: logits of the eye left and right in the picture; for each its offset in
    cells (x, y) and the logarithm of the radius of the iris in pixels over 4."""

    def __init__(self):
        super().__init__()
        self.a = block(3, 16, 2)
        self.b = block(16, 32, 2)
        self.c = block(32, 48)
        self.d = block(48, 56, 2)
        self.e = nn.ModuleList([block(56, 56, 1, k) for k in (1, 2, 3)])
        self.f = block(56, 24)
        self.g = block(48, 24)
        self.h = block(48, 32)
        self.out = nn.Conv2d(32, 8, 1)
        nn.init.constant_(self.out.bias[:2], -4)

    def forward(self, x):
        c = self.c(self.b(self.a(x)))
        d = self.d(c)
        for layer in self.e:
            d = layer(d)
        up = F.interpolate(self.f(d), scale_factor=2, mode="nearest")
        return self.out(self.h(torch.cat([up, self.g(c)], 1)))


READER_OUTPUTS = 28  # see reader_targets


class Reader(nn.Module):
    """Window around one eye (3 x 48 x 64, right eyes mirrored) to what is seen of it."""

    def __init__(self):
        super().__init__()
        self.layers = nn.ModuleList([block(3, 16), block(16, 32, 2), block(32, 48, 2), block(48, 56), block(56, 64, 2), block(64, 16)])
        self.first = nn.Linear(16 * 6 * 8, 56)
        self.out = nn.Linear(56, READER_OUTPUTS)

    def forward(self, x):
        for layer in self.layers:
            x = layer(x)
        return self.out(F.relu(self.first(x.flatten(1))))


# ---------------------------------------------------------------- pictures

DCT = torch.tensor([[np.sqrt((1 if k == 0 else 2) / 8) * np.cos(np.pi * (2 * n + 1) * k / 16) for n in range(8)] for k in range(8)],
                   dtype=torch.float32)
QUANT = torch.tensor([[16, 11, 10, 16, 24, 40, 51, 61], [12, 12, 14, 19, 26, 58, 60, 55], [14, 13, 16, 24, 40, 57, 69, 56],
                      [14, 17, 22, 29, 51, 87, 80, 62], [18, 22, 37, 56, 68, 109, 103, 77], [24, 35, 55, 64, 81, 104, 113, 92],
                      [49, 64, 78, 87, 103, 121, 120, 101], [72, 92, 95, 98, 112, 100, 103, 99]], dtype=torch.float32)


def compress(x, strength):
    """As JPEG does to blocks of 8: the table of ITU-T T.81 annex K times `strength`; colour at half resolution."""
    n, _, h, w = x.shape
    x = F.pad(x, (0, -w % 8, 0, -h % 8), mode="replicate")
    y = (0.114 * x[:, 0] + 0.587 * x[:, 1] + 0.299 * x[:, 2])[:, None]
    chroma = F.interpolate(F.avg_pool2d(x - y, 2), scale_factor=2, mode="bilinear", align_corners=False)
    hh, ww = y.shape[2:]
    d, q = DCT.to(x.device), QUANT.to(x.device) * strength[:, None, None, None, None]
    blocks = y.view(n, hh // 8, 8, ww // 8, 8).permute(0, 1, 3, 2, 4)
    f = d @ blocks @ d.T
    f = torch.round(f / q) * q
    y = (d.T @ f @ d).permute(0, 1, 3, 2, 4).reshape(n, 1, hh, ww)
    return (y + chroma)[:, :, :h, :w]


def uniform(n, low, high):
    return torch.rand(n, device=DEVICE) * (high - low) + low


def blur(x, sigma_x, sigma_y):
    """A Gaussian of its own for each picture."""
    n, c, h, w = x.shape
    at = torch.arange(-4, 5, device=DEVICE, dtype=torch.float32)
    for sigma, axis in ((sigma_x, 3), (sigma_y, 2)):
        k = torch.exp(-at[None] ** 2 / (2 * sigma.clamp_min(0.05)[:, None] ** 2))
        k = (k / k.sum(1, keepdim=True)).repeat_interleave(c, 0)[:, None]
        k = k[:, :, None, :] if axis == 3 else k[:, :, :, None]
        pad = (4, 4, 0, 0) if axis == 3 else (0, 0, 4, 4)
        x = F.conv2d(F.pad(x.reshape(1, n * c, h, w), pad, mode="replicate"), k, groups=n * c).reshape(n, c, h, w)
    return x


def coarsen(x, share):
    """Some pictures as a camera with fewer pixels would give them."""
    out = x.clone()
    for factor in (1.5, 2.0, 3.0):
        pick = torch.rand(len(x), device=DEVICE) < share / 3
        if pick.any():
            small = F.interpolate(x[pick], scale_factor=1 / factor, mode="bilinear", align_corners=False, antialias=True) \
                if "antialias" in F.interpolate.__code__.co_varnames else F.interpolate(x[pick], scale_factor=1 / factor, mode="area")
            out[pick] = F.interpolate(small, size=x.shape[2:], mode="bilinear", align_corners=False)
    return out


def expose(x):
    """What light, lens and sensor may do: 0..255 in, 0..255 out."""
    n = len(x)
    light = (x.clamp(0, 255) / 255) ** 2.2
    light = light * torch.exp(0.45 * torch.randn(n, device=DEVICE))[:, None, None, None]
    light = light * (1 + 0.12 * torch.randn(n, 3, device=DEVICE))[:, :, None, None].clamp_min(0.4)
    grey = light.mean(1, keepdim=True)
    light = grey + (light - grey) * uniform(n, 0.1, 1.3)[:, None, None, None]
    # A slope of light across the picture, and a veil over all of it.
    gy = torch.linspace(-1, 1, x.shape[2], device=DEVICE)[None, None, :, None]
    gx = torch.linspace(-1, 1, x.shape[3], device=DEVICE)[None, None, None, :]
    slope = 0.35 * torch.randn(n, 2, device=DEVICE)
    light = light * torch.exp(slope[:, 0, None, None, None] * gx + slope[:, 1, None, None, None] * gy)
    veil = torch.where(torch.rand(n, device=DEVICE) < 0.25, uniform(n, 0, 0.25), torch.zeros(n, device=DEVICE))
    light = light * (1 - veil)[:, None, None, None] + veil[:, None, None, None]
    code = light.clamp(1e-5, 1) ** (1 / (2.2 * torch.exp(0.18 * torch.randn(n, device=DEVICE))))[:, None, None, None]
    return 255 * code


def degrade(x, soft):
    n = len(x)
    x = coarsen(x, 0.45)
    any_blur = (torch.rand(n, device=DEVICE) < 0.6).float()
    s = uniform(n, 0, soft) * any_blur
    smear = torch.where(torch.rand(n, device=DEVICE) < 0.15, uniform(n, 0, 1.5 * soft), torch.zeros(n, device=DEVICE))
    along = torch.rand(n, device=DEVICE) < 0.5
    x = blur(x, torch.sqrt(s ** 2 + smear ** 2 * along), torch.sqrt(s ** 2 + smear ** 2 * ~along))
    x = expose(x)
    sd = torch.exp(uniform(n, np.log(0.5), np.log(22)))[:, None, None, None]
    # Noise of a webcam is not white: part of it is coarse.
    fine = torch.randn(x.shape, device=DEVICE)
    coarse = F.interpolate(torch.randn(n, 3, x.shape[2] // 2, x.shape[3] // 2, device=DEVICE), size=x.shape[2:], mode="bilinear", align_corners=False)
    grey = torch.randn(n, 1, x.shape[2], x.shape[3], device=DEVICE)
    x = x + sd * (0.5 * fine + 0.5 * coarse + 0.6 * grey) * torch.rand(n, device=DEVICE)[:, None, None, None]
    pick = torch.rand(n, device=DEVICE) < 0.5
    if pick.any():
        x = torch.where(pick[:, None, None, None], compress(x, torch.exp(uniform(n, np.log(0.15), np.log(2.5)))), x)
    return x.clamp(0, 255)


def normalise(x):
    """As the program does before it asks the network: less the mean of all values, over their deviation and eight."""
    mean = x.mean((1, 2, 3), keepdim=True)
    return (x - mean) / (x.std((1, 2, 3), keepdim=True, unbiased=False) + 8)


def sample(x, centre, scale, angle, mirror, width, height):
    """Windows of x (N x 3 x H x W): output pixel p shows source centre + scale R(angle) (p - middle), mirrored first where asked."""
    n, _, h, w = x.shape
    py = torch.arange(height, device=DEVICE, dtype=torch.float32) - (height - 1) / 2
    px = torch.arange(width, device=DEVICE, dtype=torch.float32) - (width - 1) / 2
    gx = px[None, None, :] * torch.where(mirror, -1.0, 1.0)[:, None, None]
    gy = py[None, :, None].expand(n, height, width)
    gx = gx.expand(n, height, width)
    c, s = torch.cos(angle)[:, None, None] * scale[:, None, None], torch.sin(angle)[:, None, None] * scale[:, None, None]
    sx = centre[:, 0, None, None] + c * gx - s * gy
    sy = centre[:, 1, None, None] + s * gx + c * gy
    grid = torch.stack([(2 * sx + 1) / w - 1, (2 * sy + 1) / h - 1], -1)
    return F.grid_sample(x, grid, mode="bilinear", padding_mode="border", align_corners=False)


def into(points, centre, scale, angle, mirror, width, height):
    """Source points (N x K x 2) in such windows."""
    d = points - centre[:, None]
    c, s = torch.cos(angle)[:, None], torch.sin(angle)[:, None]
    x = (c * d[..., 0] + s * d[..., 1]) / scale[:, None] * torch.where(mirror, -1.0, 1.0)[:, None]
    y = (-s * d[..., 0] + c * d[..., 1]) / scale[:, None]
    return torch.stack([x + (width - 1) / 2, y + (height - 1) / 2], -1)


# ---------------------------------------------------------------- data

class Shards:
    def __init__(self, folder, held):
        self.pattern, self.held, self.known, self.parts = folder, held, set(), []
        self.look()

    def look(self):
        for name in sorted(glob.glob(os.path.join(self.pattern, "*.done"))):
            if name in self.known or os.path.basename(name).startswith("held") != self.held:
                continue
            self.known.add(name)
            a = np.fromfile(name[:-5], RECORD)
            self.parts.append([torch.from_numpy(a[key].copy()).to(DEVICE) for key in ("frame", "crops", "truth", "distance")])
        if len(self.parts) > 1:
            self.parts = [[torch.cat(column) for column in zip(*self.parts)]]

    def count(self):
        return sum(len(p[0]) for p in self.parts)

    def draw(self, n):
        sizes = np.array([len(p[0]) for p in self.parts], float)
        per = np.random.multinomial(n, sizes / sizes.sum())
        out = [[], [], [], []]
        for part, k in zip(self.parts, per):
            if k == 0:
                continue
            i = torch.randint(len(part[0]), (int(k),), device=DEVICE)
            for j in range(4):
                out[j].append(part[j][i])
        return [torch.cat(o) for o in out]


def load_negatives(folder):
    from PIL import Image
    out = []
    for name in sorted(glob.glob(os.path.join(folder, "*.jpg"))):
        out.append(np.asarray(Image.open(name).convert("RGB").resize((448, 336)))[:, :, ::-1].copy())
    return torch.from_numpy(np.stack(out)).to(DEVICE)


def planes(x):
    return x.permute(0, 3, 1, 2).float()


def random_windows(negatives, n, width, height):
    """Windows without an eye, of any size and turn."""
    x = planes(negatives[torch.randint(len(negatives), (n,), device=DEVICE)])
    scale = torch.exp(uniform(n, np.log(0.35), np.log(448 / width)))
    centre = torch.stack([uniform(n, 0, 448), uniform(n, 0, 336)], 1)
    return sample(x, centre, scale, uniform(n, -0.6, 0.6), torch.rand(n, device=DEVICE) < 0.5, width, height)


# ---------------------------------------------------------------- reader

def reader_batch(data, negatives, n):
    """Windows, targets, and weights of presence and of the rest."""
    _, crops, truth, _ = data.draw(n)
    kind = torch.multinomial(torch.tensor([0.39, 0.39, 0.22], device=DEVICE), len(crops), replacement=True)  # left, right, elsewhere
    rows = torch.arange(len(crops), device=DEVICE)
    x = compress_source(planes(crops[rows, kind]))
    both = truth[rows, kind + 1]                    # N x 2 x 24
    middle = torch.tensor([(112 - 1) / 2, (84 - 1) / 2], device=DEVICE)
    opening = (both[:, :, 3:5] + both[:, :, 5:7]) / 2
    nearest = (opening - middle).norm(dim=2).argmin(1)
    eye = torch.where(kind == 2, nearest, kind)     # 0 left, 1 right
    t = both[rows, eye]
    mirror = eye == 1
    along = t[:, 5:7] - t[:, 3:5]
    roll = torch.atan2(along[:, 1] * torch.where(mirror, -1.0, 1.0), along[:, 0] * torch.where(mirror, -1.0, 1.0))
    is_eye = kind != 2
    n = len(x)
    angle = torch.where(is_eye, roll, uniform(n, -0.4, 0.4)) + 0.13 * torch.randn(n, device=DEVICE)
    radius = torch.where(is_eye, t[:, 2], torch.full_like(t[:, 2], 8.0))
    scale = radius / CROP_RADIUS * torch.exp(uniform(n, -0.38, 0.38))
    shift = torch.stack([uniform(n, -7, 7), uniform(n, -6, 6)], 1) * scale[:, None]
    centre = torch.where(is_eye[:, None], (t[:, 3:5] + t[:, 5:7]) / 2, middle.expand(n, 2)) + shift
    pictures = sample(x, centre, scale, angle, mirror, CROP_W, CROP_H)
    put = lambda p: into(p, centre, scale, angle, mirror, CROP_W, CROP_H)
    iris = put(t[:, None, 0:2])[:, 0]
    inner, outer = put(t[:, None, 3:5])[:, 0], put(t[:, None, 5:7])[:, 0]
    r = t[:, 2] / scale
    # Present: an eye about the middle, about as large as expected. In between nobody is asked.
    m = (inner + outer) / 2
    away = ((m[:, 0] - (CROP_W - 1) / 2) / 13).abs().maximum(((m[:, 1] - (CROP_H - 1) / 2) / 10).abs())
    size = (r / CROP_RADIUS).log().abs()
    covered = t[:, 23]
    present = ((away < 1) & (size < 0.5) & (covered < 0.6)).float()
    clear = ((away < 1) & (size < 0.5) & (covered < 0.45)) | (away > 1.5) | (size > 0.9) | (covered > 0.85)
    lids = torch.cat([t[:, 7:14], t[:, 14:21]], 1) / scale[:, None]
    c = torch.tensor([(CROP_W - 1) / 2, (CROP_H - 1) / 2], device=DEVICE)
    target = torch.cat([present[:, None], (iris - c) / 16, (r / CROP_RADIUS).log()[:, None], (inner - c) / 16, (outer - c) / 16,
                        lids / 16, t[:, 21:22], t[:, 22:23]], 1)
    none = max(1, n // 4)
    empty = random_windows(negatives, none, CROP_W, CROP_H)
    pictures = degrade(torch.cat([pictures, empty]), 2.0)
    target = torch.cat([target, torch.zeros(none, target.shape[1], device=DEVICE)])
    clear = torch.cat([clear.float(), torch.ones(none, device=DEVICE)])
    # Patches of light or hand over some.
    patch = torch.rand(len(pictures), device=DEVICE) < 0.08
    if patch.any():
        k = int(patch.sum())
        gx = torch.arange(CROP_W, device=DEVICE)[None, None, :]
        gy = torch.arange(CROP_H, device=DEVICE)[None, :, None]
        box = lambda g, at, half: (g - at[:, None, None]).abs() < half[:, None, None]
        inside = box(gx, uniform(k, 0, CROP_W), uniform(k, 1, 8)) & box(gy, uniform(k, 0, CROP_H), uniform(k, 1, 8))
        pictures[patch] = torch.where(inside[:, None], (255 * torch.rand(k, 3, device=DEVICE))[:, :, None, None], pictures[patch])
    return normalise(pictures), target, clear


def compress_source(x):
    pick = torch.rand(len(x), device=DEVICE) < 0.3
    return torch.where(pick[:, None, None, None], compress(x, torch.exp(uniform(len(x), np.log(0.15), np.log(2)))), x)


def reader_loss(out, target, clear):
    present = target[:, 0]
    presence = (F.binary_cross_entropy_with_logits(out[:, 0], present, reduction="none") * clear).mean()
    w = present * clear
    seen = w * (target[:, 23] > 0.08).float()
    # Laplace: the network says itself how sure it is of place and size.
    place, size = out[:, 24].clamp(-6, 3), out[:, 25].clamp(-6, 3)
    off = (out[:, 1:3] - target[:, 1:3]).abs().sum(1)
    log_r = (out[:, 3] - target[:, 3]).abs()
    iris = (seen * (off * torch.exp(-place) + 2 * place)).sum() / seen.sum().clamp_min(1)
    radius = (seen * (log_r * torch.exp(-size) + size)).sum() / seen.sum().clamp_min(1)
    corners = (w[:, None] * (out[:, 4:8] - target[:, 4:8]).abs()).sum() / w.sum().clamp_min(1)
    lids = (w[:, None] * (out[:, 8:22] - target[:, 8:22]).abs()).sum() / w.sum().clamp_min(1)
    state = (w[:, None] * (out[:, 22:24] - target[:, 22:24]).abs()).sum() / w.sum().clamp_min(1)
    # Shut or open, as a question of its own. Beneath a third of an iris nothing can be measured.
    shut = (target[:, 22] < 0.12).float()
    asked = w * ((target[:, 22] < 0.12) | (target[:, 22] > 0.2)).float()
    open_loss = (F.binary_cross_entropy_with_logits(out[:, 26], 1 - shut, reduction="none") * asked).sum() / asked.sum().clamp_min(1)
    return 2 * presence + iris + radius + 2 * corners + 1.5 * lids + 2 * state + open_loss


@torch.no_grad()
def reader_scores(net, held, negatives):
    net.eval()
    rows = []
    for _ in range(12):
        x, target, clear = reader_batch(held, negatives, 800)
        rows.append((net(x), target, clear))
    out, target, clear = (torch.cat(r) for r in zip(*rows))
    net.train()
    p = out[:, 0]
    is_eye, none = (target[:, 0] > 0.5) & (clear > 0), (target[:, 0] < 0.5) & (clear > 0)
    seen = is_eye & (target[:, 23] > 0.15)
    off = 16 * (out[seen, 1:3] - target[seen, 1:3]).abs()
    size = (out[seen, 3] - target[seen, 3]).abs()
    shut, open_ = is_eye & (target[:, 22] < 0.12), is_eye & (target[:, 22] > 0.25)
    return (f"eyes {int(is_eye.sum())} found {100 * (p[is_eye] > 0).float().mean():.2f} % (>2: {100 * (p[is_eye] > 2).float().mean():.2f} %), "
            f"none {int(none.sum())} taken {100 * (p[none] > 0).float().mean():.2f} % (>2: {100 * (p[none] > 2).float().mean():.2f} %), "
            f"iris off x {off[:, 0].median():.2f} y {off[:, 1].median():.2f} px (p95 {off.quantile(0.95):.2f}), "
            f"radius {100 * size.median():.1f} % (p95 {100 * size.quantile(0.95):.1f}), "
            f"lids {16 * (out[is_eye, 8:22] - target[is_eye, 8:22]).abs().median():.2f} px, "
            f"shut taken for open {100 * (out[shut, 26] > 0).float().mean():.2f} %, open for shut {100 * (out[open_, 26] < 0).float().mean():.2f} %")


# ---------------------------------------------------------------- finder

def finder_batch(data, negatives, n):
    frames, crops, truth, _ = data.draw(n)
    n = len(frames)
    x = planes(frames)
    t = truth[:, 0].clone()
    # Some of the pictures are other parts of faces, enlarged.
    part = torch.rand(n, device=DEVICE) < 0.15
    close = F.interpolate(planes(crops[:, 2]), size=(120, 160), mode="bilinear", align_corners=False)[:, :, 12:108]
    x = torch.where(part[:, None, None, None], close, x)
    k = 160 / 112
    other = truth[:, 3].clone()
    for i in ((0, 1), (3, 4), (5, 6)):
        other[:, :, i[0]] = (other[:, :, i[0]] + 0.5) * k - 0.5
        other[:, :, i[1]] = (other[:, :, i[1]] + 0.5) * k - 0.5 - 12
    other[:, :, 2] *= k
    t = torch.where(part[:, None, None], other, t)
    mirror = torch.rand(n, device=DEVICE) < 0.5
    scale = torch.exp(uniform(n, -0.35, 0.25))
    centre = torch.stack([79.5 + uniform(n, -16, 16), 47.5 + uniform(n, -10, 10)], 1)
    angle = 0.1 * torch.randn(n, device=DEVICE)
    pictures = sample(x, centre, scale, angle, mirror, 160, 96)
    opening = into((t[:, :, 3:5] + t[:, :, 5:7]) / 2, centre, scale, angle, mirror, 160, 96)
    radius = t[:, :, 2] / scale[:, None]
    # Channel 0: the eye on the left of the picture, which is the patient's right one, unless mirrored.
    order = torch.where(mirror[:, None], torch.tensor([0, 1], device=DEVICE), torch.tensor([1, 0], device=DEVICE))
    opening = torch.gather(opening, 1, order[:, :, None].expand(n, 2, 2))
    radius = torch.gather(radius, 1, order)
    covered = torch.gather(t[:, :, 23], 1, order)
    none = n // 2
    empty = random_windows(negatives, none, 160, 96)
    pictures = degrade(torch.cat([pictures, empty]), 1.4)
    far = torch.full((none, 2, 2), -1e4, device=DEVICE)
    opening, radius = torch.cat([opening, far]), torch.cat([radius, torch.full((none, 2), 4.0, device=DEVICE)])
    covered = torch.cat([covered, torch.zeros(none, 2, device=DEVICE)])
    return normalise(pictures), *finder_targets(opening, radius, covered)


def finder_targets(opening, radius, covered):
    n = len(opening)
    w, h = 160 // STRIDE, 96 // STRIDE
    cx = (torch.arange(w, device=DEVICE) * STRIDE + (STRIDE - 1) / 2)[None, None, None, :]
    cy = (torch.arange(h, device=DEVICE) * STRIDE + (STRIDE - 1) / 2)[None, None, :, None]
    dx, dy = opening[:, :, 0, None, None] - cx, opening[:, :, 1, None, None] - cy
    spread = (0.45 * radius).clamp(3.0, 6.0)[:, :, None, None]
    heat = torch.exp(-(dx ** 2 + dy ** 2) / (2 * spread ** 2))
    inside = (opening[:, :, 0] > 1) & (opening[:, :, 0] < 158) & (opening[:, :, 1] > 1) & (opening[:, :, 1] < 94)
    good = inside & (radius > 1.9) & (radius < 24) & (covered < 0.5)
    asked = torch.where((good | ~inside)[:, :, None, None], torch.ones_like(heat), (heat < 0.02).float())
    heat = heat * good[:, :, None, None]
    # The cell nearest to the middle is a full hit.
    near = ((dx.abs() <= STRIDE / 2) & (dy.abs() <= STRIDE / 2)) & good[:, :, None, None]
    heat = torch.where(near, torch.ones_like(heat), heat)
    values = torch.stack([dx.expand_as(heat) / STRIDE, dy.expand_as(heat) / STRIDE,
                          (radius / 4).clamp_min(0.1).log()[:, :, None, None].expand_as(heat)], 2)
    return heat, asked, values


def finder_loss(out, heat, asked, values):
    logit = out[:, :2]
    p = torch.sigmoid(logit)
    hit = (heat > 0.99).float()
    loss = -(hit * (1 - p) ** 2 * F.logsigmoid(logit) + (1 - hit) * (1 - heat) ** 4 * p ** 2 * F.logsigmoid(-logit)) * asked
    loss = loss.sum() / hit.sum().clamp_min(1)
    weight = (heat > 0.4).float() * heat
    got = out[:, 2:].reshape(len(out), 2, 3, *heat.shape[2:])
    off = ((got - values).abs() * weight[:, :, None]).sum() / weight.sum().clamp_min(1)
    return loss + off


@torch.no_grad()
def finder_scores(net, held, negatives):
    net.eval()
    found, taken, off, size, false = 0, 0, [], [], []
    eyes = 0
    for _ in range(10):
        x, heat, asked, values = finder_batch(held, negatives, 400)
        out = net(x)
        p = out[:, :2].flatten(2)
        best, at = p.max(2)
        good = heat.flatten(2).max(2)[0] > 0.99
        got = out[:, 2:].reshape(len(out), 2, 3, -1).gather(3, at[:, :, None, None].expand(-1, -1, 3, 1))[..., 0]
        want = values.flatten(3).gather(3, at[:, :, None, None].expand(-1, -1, 3, 1))[..., 0]
        d = STRIDE * (got - want)[:, :, :2].norm(dim=2)
        right = d < 0.5 * 4 * torch.exp(want[:, :, 2])
        eyes += int(good.sum())
        found += int((good & (best > 0) & right).sum())
        off.append(d[good & right])
        size.append((got - want)[:, :, 2].abs()[good & right])
        none = ~good.any(1) & (asked.flatten(2).min(2)[0] > 0).all(1)
        pair = torch.minimum(best[:, 0], best[:, 1])
        false.append(pair[none])
    net.train()
    off, size, false = torch.cat(off), torch.cat(size), torch.cat(false)
    return (f"eyes {eyes} found in place {100 * found / eyes:.2f} %, off {off.median():.2f} px, radius {100 * size.median():.1f} %, "
            f"pictures without {len(false)}, both taken {100 * (false > 0).float().mean():.2f} %, above 1: {100 * (false > 1).float().mean():.3f} %")


# ---------------------------------------------------------------- export

def folded(layer):
    conv, norm = layer[0], layer[1]
    k = (norm.weight / torch.sqrt(norm.running_var + norm.eps)).detach()
    return (conv.weight.detach() * k[:, None, None, None]).cpu().numpy(), (norm.bias.detach() - norm.running_mean * k).cpu().numpy(), conv


def export(kind, net, path):
    import onnx
    from onnx import TensorProto, helper, numpy_helper
    nodes, weights = [], []

    def constant(name, value):
        weights.append(numpy_helper.from_array(np.ascontiguousarray(value, np.float32), name))
        return name

    def conv(name, layer, source):
        w, b, c = folded(layer)
        d, s = c.dilation[0], c.stride[0]
        nodes.append(helper.make_node("Conv", [source, constant(name + "_w", w), constant(name + "_b", b)], [name + "_c"], kernel_shape=[3, 3],
                                      strides=[s, s], dilations=[d, d], pads=[d] * 4))
        nodes.append(helper.make_node("Relu", [name + "_c"], [name]))
        return name

    if kind == "finder":
        c = conv("c", net.c, conv("b", net.b, conv("a", net.a, "picture")))
        x = conv("d", net.d, c)
        for i, layer in enumerate(net.e):
            x = conv(f"e{i}", layer, x)
        x = conv("f", net.f, x)
        nodes.append(helper.make_node("Resize", [x, constant("roi", np.zeros(0)), constant("scales", [1, 1, 2, 2])], ["up"], mode="nearest",
                                      coordinate_transformation_mode="asymmetric", nearest_mode="floor"))
        nodes.append(helper.make_node("Concat", ["up", conv("g", net.g, c)], ["both"], axis=1))
        h = conv("h", net.h, "both")
        nodes.append(helper.make_node("Conv", [h, constant("out_w", net.out.weight.detach().cpu().numpy()),
                                               constant("out_b", net.out.bias.detach().cpu().numpy())], ["eyes"], kernel_shape=[1, 1]))
        shapes = ([1, 3, 96, 160], [1, 8, 24, 40])
    else:
        x = "picture"
        for i, layer in enumerate(net.layers):
            x = conv(f"l{i}", layer, x)
        nodes.append(helper.make_node("Flatten", [x], ["flat"], axis=1))
        nodes.append(helper.make_node("Gemm", ["flat", constant("first_w", net.first.weight.detach().cpu().numpy()),
                                               constant("first_b", net.first.bias.detach().cpu().numpy())], ["first_g"], transB=1))
        nodes.append(helper.make_node("Relu", ["first_g"], ["first"]))
        nodes.append(helper.make_node("Gemm", ["first", constant("out_w", net.out.weight.detach().cpu().numpy()),
                                               constant("out_b", net.out.bias.detach().cpu().numpy())], ["eyes"], transB=1))
        shapes = ([1, 3, CROP_H, CROP_W], [1, READER_OUTPUTS])
    graph = helper.make_graph(nodes, kind, [helper.make_tensor_value_info("picture", TensorProto.FLOAT, shapes[0])],
                              [helper.make_tensor_value_info("eyes", TensorProto.FLOAT, shapes[1])], weights)
    model = helper.make_model(graph, opset_imports=[helper.make_opsetid("", 11)], producer_name="nearpoint")
    model.ir_version = 6
    onnx.checker.check_model(model)
    onnx.save(model, path)


# ---------------------------------------------------------------- the run

def main(kind, folder, negative_folder, out, minutes, resume=None):
    torch.manual_seed(1)
    np.random.seed(1)
    end = time.time() + 60 * float(minutes)
    negatives = load_negatives(negative_folder)
    held_negatives, negatives = negatives[::8], negatives[torch.arange(len(negatives), device=DEVICE) % 8 != 0]
    data, held = Shards(folder, False), Shards(folder, True)
    while not data.parts or not held.parts:
        time.sleep(3)
        data.look()
        held.look()
    net = (Finder() if kind == "finder" else Reader()).to(DEVICE)
    batch, loss_of, scores = (finder_batch, finder_loss, finder_scores) if kind == "finder" else (reader_batch, reader_loss, reader_scores)
    print(kind, sum(p.numel() for p in net.parameters()), "weights", flush=True)
    if resume:
        net.load_state_dict(torch.load(resume, map_location=DEVICE))
    optimiser = torch.optim.AdamW(net.parameters(), lr=2e-3, weight_decay=1e-3)
    size = int(os.environ.get("BATCH", 512 if kind == "finder" else 1024))
    begin, step, last = time.time(), 0, time.time()
    top = 2e-3 if resume is None else 1e-3
    while time.time() < end:
        part = (time.time() - begin) / (end - begin)
        for group in optimiser.param_groups:
            group["lr"] = top * min(1, step / 200 + 0.01) * (0.5 + 0.5 * np.cos(np.pi * part)) + 1e-6
        *x, = batch(data, negatives, size)
        loss = loss_of(net(x[0]), *x[1:])
        optimiser.zero_grad(set_to_none=True)
        loss.backward()
        nn.utils.clip_grad_norm_(net.parameters(), 5.0)
        optimiser.step()
        step += 1
        if time.time() - last > 45:
            last = time.time()
            data.look()
            print(f"{int(last - begin)} s, step {step}, {data.count()} scenes, loss {loss.item():.3f}; {scores(net, held, held_negatives)}", flush=True)
            torch.save(net.state_dict(), out + ".pt")
    net.eval()
    print("end", step, "steps,", data.count(), "scenes;", scores(net, held, held_negatives), flush=True)
    net.eval()
    torch.save(net.state_dict(), out + ".pt")
    export(kind, net, out + ".onnx")


if __name__ == "__main__":
    main(*sys.argv[1:])
