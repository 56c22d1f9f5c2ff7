#!/usr/bin/env python3
"""Reads a binary STL by itself: one closed surface, normals outwards, its volume.

usage: stl_check.py FILE  prints volume in mm3, triangles, and the extent along each axis
"""

import struct
import sys

data = open(sys.argv[1], "rb").read()
count = struct.unpack_from("<I", data, 80)[0]
if len(data) != 84 + 50 * count or data.startswith(b"solid"):
    sys.exit("not a binary STL of its own length")
edges, volume, wrong = {}, 0.0, 0
places, extent = {}, [[1e9, -1e9] for _ in range(3)]
for k in range(count):
    f = struct.unpack_from("<12f", data, 84 + 50 * k)
    n, corners = f[:3], (f[3:6], f[6:9], f[9:12])
    a, b, c = corners
    u = [b[i] - a[i] for i in range(3)]
    v = [c[i] - a[i] for i in range(3)]
    w = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]]
    volume += sum(a[i] * (b[(i + 1) % 3] * c[(i + 2) % 3] - b[(i + 2) % 3] * c[(i + 1) % 3]) for i in range(3)) / 6
    if sum(n[i] * w[i] for i in range(3)) < 0:
        wrong += 1
    ids = [places.setdefault(p, len(places)) for p in corners]
    for p in corners:
        for i in range(3):
            extent[i] = [min(extent[i][0], p[i]), max(extent[i][1], p[i])]
    for i in range(3):
        edge = (ids[i], ids[(i + 1) % 3])
        edges[edge] = edges.get(edge, 0) + 1
bad = [e for e, times in edges.items() if times != 1 or edges.get((e[1], e[0])) != 1]
if bad or wrong or volume <= 0:
    sys.exit(f"{len(bad)} edges not shared by two triangles in opposite directions, {wrong} normals look inwards, volume {volume}")
euler = len(places) - len(edges) // 2 + count
print(f"{volume:.3f} {count} {euler} " + " ".join(f"{hi - lo:.3f}" for lo, hi in extent))
