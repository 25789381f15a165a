"""A fair classical pipeline on general-purpose image libraries, to compare times and finds with.

Usage: yardstick_opencv.py PHOTO PITCH_MM [--library opencv|skimage] [--repeat N] [--json]

Steps, the same in both: decode, denoise, flatten the background by a large median of a reduced picture, threshold
lightness and colour in units of their own noise, find and remove the printed grid, open and close, fill, label,
split touching pieces by a watershed on distance, trace contours, measure. Prints one JSON object.
"""
import argparse
import json
import sys
import time

import numpy as np

# Tuned on the ordinary set (tuned seeds) for the best F1.
LIGHTNESS = 4.5
COLOUR = 3.5
SMALLEST = 12


def deviations(lab):
    """Robust standard deviation of each channel, by the median absolute deviation."""
    flat = lab[::4, ::4].reshape(-1, 3)
    return 1.4826 * np.median(np.abs(flat - np.median(flat, axis=0)), axis=0) + 1e-3


def apart(diff, scores):
    """Pixels that stand apart from the membrane: in units of noise, and by enough lightness or colour to be seen."""
    strong = np.abs(diff) > np.array([LIGHTNESS, COLOUR, COLOUR])
    return ((scores > np.array([6, 6, 6])) & strong).any(axis=-1)


def over_ink(diff, grid):
    """Pixels on the print whose colour is neither the ink's nor the membrane's."""
    if not grid.any():
        return grid
    ink = np.median(diff[grid], axis=0)[1:]
    from_ink = np.abs(diff[..., 1:] - ink).max(axis=-1)
    from_ground = np.abs(diff[..., 1:]).max(axis=-1)
    return grid & (np.minimum(from_ink, from_ground) > 10)


def period_of(profile):
    """Strongest period of a line profile: first high peak of its autocorrelation, refined by a parabola over many periods."""
    x = profile - profile.mean()
    n = len(x)
    spectrum = np.fft.rfft(x, 2 * n)
    auto = np.fft.irfft(spectrum * np.conj(spectrum))[:n] / np.arange(n, 0, -1)
    low = 60
    if n < 3 * low or auto[0] <= 0:
        return None
    high = n * 3 // 4
    peak = low + int(np.argmax(auto[low:high]))
    if auto[peak] < 0.25 * auto[0]:
        return None
    for k in (4, 3, 2):
        part = peak / k
        if part > low:
            near = int(round(part))
            window = auto[near - 6:near + 7]
            if window.max() > 0.8 * auto[peak]:
                peak = near - 6 + int(np.argmax(window))
                break
    a, b, c = auto[peak - 1], auto[peak], auto[peak + 1]
    shift = 0.5 * (a - c) / (a - 2 * b + c) if a - 2 * b + c != 0 else 0.0
    return peak + shift


def run_opencv(path, pitch_mm):
    import cv2
    started = time.perf_counter()
    image = cv2.imread(path, cv2.IMREAD_COLOR)
    decoded = time.perf_counter()
    height, width = image.shape[:2]
    smooth = cv2.GaussianBlur(image, (0, 0), 0.8)
    lab = cv2.cvtColor(smooth.astype(np.float32) / 255, cv2.COLOR_BGR2Lab)
    small = cv2.resize(smooth, None, fx=1 / 8, fy=1 / 8, interpolation=cv2.INTER_AREA)
    ground = cv2.resize(cv2.medianBlur(small, 41), (width, height), interpolation=cv2.INTER_CUBIC)
    diff = lab - cv2.cvtColor(ground.astype(np.float32) / 255, cv2.COLOR_BGR2Lab)
    sigma = deviations(diff)
    scores = np.abs(diff) / sigma
    mask = apart(diff, scores).astype(np.uint8)

    # The print: its angle from long straight edges, its lines by opening with long thin brushes at that angle.
    dark = (np.abs(diff[..., 0]) > 5 * sigma[0]).astype(np.uint8)
    half = cv2.resize(dark, None, fx=0.5, fy=0.5, interpolation=cv2.INTER_AREA)
    lines = cv2.HoughLinesP(half, 1, np.pi / 720, 160, minLineLength=max(width, height) // 12, maxLineGap=12)
    grid = np.zeros((height, width), np.uint8)
    um_per_px = None
    if lines is not None:
        steps = lines[:, 0, 2:] - lines[:, 0, :2]
        angles = np.degrees(np.arctan2(steps[:, 1], steps[:, 0]))
        angles = (angles + 45) % 90 - 45
        angle = float(np.median(angles))
        turn = cv2.getRotationMatrix2D((width / 2, height / 2), angle, 1)
        upright = cv2.warpAffine(dark, turn, (width, height))
        periods = [period_of(upright.mean(axis=0)), period_of(upright.mean(axis=1))]
        periods = [p for p in periods if p]
        if periods:
            um_per_px = pitch_mm * 1000 / min(periods)
        reach = int((min(periods) if periods else max(width, height) / 8) * 0.4) | 1
        across = cv2.morphologyEx(cv2.dilate(upright, np.ones((3, 3), np.uint8)), cv2.MORPH_OPEN, np.ones((1, reach), np.uint8))
        down = cv2.morphologyEx(cv2.dilate(upright, np.ones((3, 3), np.uint8)), cv2.MORPH_OPEN, np.ones((reach, 1), np.uint8))
        # Lines go on over gaps in the ink and to the frame.
        across = cv2.dilate(across, np.ones((1, reach), np.uint8))
        down = cv2.dilate(down, np.ones((reach, 1), np.uint8))
        both = cv2.dilate(cv2.bitwise_or(across, down), np.ones((5, 5), np.uint8))
        grid = cv2.warpAffine(both, cv2.invertAffineTransform(turn), (width, height), flags=cv2.INTER_NEAREST)
        mask[(grid > 0) & ~over_ink(diff, grid > 0)] = 0

    ellipse = cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (3, 3))
    mask = cv2.morphologyEx(mask, cv2.MORPH_OPEN, ellipse)
    mask = cv2.morphologyEx(mask, cv2.MORPH_CLOSE, cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (7, 7)))
    outlines, _ = cv2.findContours(mask, cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
    cv2.drawContours(mask, outlines, -1, 1, cv2.FILLED)
    count, labels, stats, _ = cv2.connectedComponentsWithStats(mask, connectivity=8)
    distance = cv2.distanceTransform(mask, cv2.DIST_L2, 5)
    peaks = np.zeros_like(mask)
    for i in range(1, count):
        x, y, w, h, area = stats[i]
        if area < SMALLEST:
            continue
        inner = distance[y:y + h, x:x + w]
        own = labels[y:y + h, x:x + w] == i
        peaks[y:y + h, x:x + w][own & (inner > 0.6 * inner[own].max())] = 1
    _, markers = cv2.connectedComponents(peaks)
    markers = markers + 1
    markers[(mask > 0) & (peaks == 0)] = 0
    cv2.watershed(smooth, markers)
    pieces = markers.copy()
    pieces[(markers <= 1) | (mask == 0)] = 0

    found = []
    slices = slices_of(pieces)
    for label, (rows, columns) in slices:
        part = (pieces[rows, columns] == label).astype(np.uint8)
        contours, _ = cv2.findContours(part, cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
        if not contours:
            continue
        contour = max(contours, key=cv2.contourArea)
        if part.sum() < SMALLEST:
            continue
        hull = cv2.convexHull(contour)[:, 0, :].astype(float)
        feret = float(np.sqrt(((hull[:, None] - hull[None]) ** 2).sum(-1)).max()) + 1 if len(hull) > 1 else 1.0
        outline = contour[:, 0, :] + [columns.start + 0.5, rows.start + 0.5]
        found.append({"outline_px": outline.tolist(), "area_px2": float(part.sum()), "feret_max_px": feret})
    return result(started, decoded, found, um_per_px)


def slices_of(labels):
    from scipy import ndimage
    return [(i + 1, s) for i, s in enumerate(ndimage.find_objects(labels)) if s is not None]


def run_skimage(path, pitch_mm):
    from scipy import ndimage
    from skimage import color, feature, filters, io, measure, morphology, segmentation, transform
    started = time.perf_counter()
    image = io.imread(path)[..., :3]
    decoded = time.perf_counter()
    height, width = image.shape[:2]
    smooth = filters.gaussian(image, 0.8, channel_axis=-1)
    lab = color.rgb2lab(smooth)
    small = transform.resize(lab, (height // 8, width // 8, 3), anti_aliasing=True)
    ground = np.stack([ndimage.median_filter(small[..., c], 41) for c in range(3)], -1)
    diff = lab - transform.resize(ground, lab.shape)
    sigma = deviations(diff)
    scores = np.abs(diff) / sigma
    mask = apart(diff, scores)
    dark = np.abs(diff[..., 0]) > 5 * sigma[0]
    angles = np.deg2rad(np.linspace(-15, 15, 121))
    half = dark[::4, ::4]
    accumulated, thetas, _ = transform.hough_line(half, np.concatenate([angles, angles + np.pi / 2]))
    strength = (accumulated.astype(float) ** 2).sum(axis=0)
    angle = float(np.rad2deg(angles[int(np.argmax(strength[:121] + strength[121:]))]))
    upright = transform.rotate(dark.astype(float), angle, order=0) > 0.5
    periods = [p for p in (period_of(upright.mean(axis=0)), period_of(upright.mean(axis=1))) if p]
    um_per_px = pitch_mm * 1000 / min(periods) if periods else None
    reach = int((min(periods) if periods else max(width, height) / 8) * 0.4) | 1
    thick = morphology.binary_dilation(upright, np.ones((3, 3)))
    across = ndimage.binary_opening(thick, np.ones((1, reach))) if reach < 64 else opened(thick, reach, 1)
    down = opened(thick, reach, 0)
    across = ndimage.maximum_filter1d(across.astype(np.uint8), reach, axis=1) > 0
    down = ndimage.maximum_filter1d(down.astype(np.uint8), reach, axis=0) > 0
    both = morphology.binary_dilation(across | down, np.ones((5, 5)))
    grid = transform.rotate(both.astype(float), -angle, order=0) > 0.5
    mask &= ~grid | over_ink(diff, grid)
    mask = morphology.binary_opening(mask, morphology.disk(1))
    mask = morphology.binary_closing(mask, morphology.disk(3))
    mask = ndimage.binary_fill_holes(mask)
    mask = morphology.remove_small_objects(mask, SMALLEST)
    labels = measure.label(mask)
    distance = ndimage.distance_transform_edt(mask)
    peaks = feature.peak_local_max(distance, min_distance=5, labels=labels, exclude_border=False)
    markers = np.zeros(mask.shape, int)
    markers[tuple(peaks.T)] = np.arange(1, len(peaks) + 1)
    pieces = segmentation.watershed(-filters.gaussian(distance, 1), markers, mask=mask)
    found = []
    for region in measure.regionprops(pieces):
        if region.area < SMALLEST:
            continue
        top, left = region.bbox[:2]
        contours = measure.find_contours(np.pad(region.image, 1).astype(float), 0.5)
        outline = max(contours, key=len)[:, ::-1] + [left - 0.5, top - 0.5]
        found.append({"outline_px": outline.tolist(), "area_px2": float(region.area), "feret_max_px": float(region.feret_diameter_max)})
    return result(started, decoded, found, um_per_px)


def opened(mask, reach, axis):
    """Opening by a straight brush along one axis, by running minima and maxima."""
    from scipy import ndimage
    eroded = ndimage.minimum_filter1d(mask.astype(np.uint8), reach, axis=axis)
    return ndimage.maximum_filter1d(eroded, reach, axis=axis) > 0


def result(started, decoded, found, um_per_px):
    ended = time.perf_counter()
    return {"decode_s": decoded - started, "total_s": ended - started, "um_per_px": um_per_px, "particles": found}


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("photo")
    parser.add_argument("pitch_mm", type=float)
    parser.add_argument("--library", choices=["opencv", "skimage"], default="opencv")
    parser.add_argument("--repeat", type=int, default=1)
    parser.add_argument("--json", action="store_true", help="with outlines")
    args = parser.parse_args()
    run = run_opencv if args.library == "opencv" else run_skimage
    runs = []
    for _ in range(args.repeat):
        before = time.process_time()
        answer = run(args.photo, args.pitch_mm)
        runs.append({**answer, "processor_s": time.process_time() - before})
    best = min(runs, key=lambda r: r["total_s"])
    import resource
    answer = {
        "library": args.library,
        "decode_s": best["decode_s"],
        "total_s": best["total_s"],
        "processor_s": min(r["processor_s"] for r in runs),
        "um_per_px": best["um_per_px"],
        "found": len(best["particles"]),
        "peak_mb": resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024,
    }
    if args.json:
        answer["particles"] = best["particles"]
    json.dump(answer, sys.stdout)


main()
