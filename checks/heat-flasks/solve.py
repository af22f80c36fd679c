"""Solves the flask cases beside this file with a general-purpose stiff solver, as an independent witness.

Run in this folder: python3 solve.py. It writes NAME.solved.json beside each NAME.json. With --compare it
writes nothing and prints the processor time and the distance from the stored answer instead; --cell-mm and
--rtol make it coarser, so that it can be timed at an error of one's choice.

Independent of the program: plain finite volumes on cells of 1 mm (nodes in the middle of each cell, straight
half paths, no special treatment of the axis), enthalpy tabulated and inverted by interpolation, and scipy's
implicit BDF of variable order with a sparse Jacobian at a relative tolerance of 1e-5. The whole height is
solved, not half. Reactions that do not reverse are only met on heating here, where they are like any other.
"""

import argparse
import json
import platform
import time
from pathlib import Path

import numpy as np
import scipy
from scipy.integrate import solve_ivp
from scipy.interpolate import RegularGridInterpolator
from scipy.sparse import coo_matrix

SIGMA = 5.670374419e-8
GRID = np.linspace(-100.0, 1200.0, 1_300_001)


def table(value):
    if isinstance(value, (int, float)):
        return np.array([0.0]), np.array([float(value)])
    at, values = np.array(value, dtype=float).T
    return at, values


def enthalpy_of(material):
    heat = np.interp(GRID, *table(material["specificHeat_J_kgK"]))
    steps = 0.5 * (heat[1:] + heat[:-1]) * np.diff(GRID)
    total = np.concatenate([[0.0], np.cumsum(steps)])
    for one in material.get("reactions", []):
        share = (GRID - one["from_C"]) / (one["to_C"] - one["from_C"])
        total += one["heat_J_kg"] * np.clip(share, 0.0, 1.0)
    return material["density_kg_m3"] * total


def solve(case, cell_size, rtol):
    core = case["geometry"]["radius_mm"] / 1000
    height = case["geometry"]["height_mm"] / 1000
    [layer] = case["layers"]
    columns = round((core + layer["thickness_mm"] / 1000) / cell_size)
    rows = round(height / cell_size)
    edges = cell_size * np.arange(columns + 1)
    r = 0.5 * (edges[1:] + edges[:-1])
    z = cell_size * (np.arange(rows) + 0.5) - height / 2
    floor = np.pi * (edges[1:] ** 2 - edges[:-1] ** 2)
    materials = [case["material"], layer["material"]]
    which = np.tile((r > core).astype(int), (rows, 1))
    volume = np.tile(floor * cell_size, (rows, 1))
    tables = [enthalpy_of(one) for one in materials]
    conduct = [table(one["conductivity_W_mK"]) for one in materials]
    boundary = case["boundary"]
    ambient_at, ambient_to = table(boundary["ambient_C"])
    h, emissivity = boundary["h_W_m2K"], boundary["emissivity"]

    def temperatures(energy):
        out = np.empty_like(energy)
        for index, one in enumerate(tables):
            out[which == index] = np.interp(energy[which == index], one, GRID)
        return out

    def conductivity(kelvins):
        out = np.empty_like(kelvins)
        for index, one in enumerate(conduct):
            out[which == index] = np.interp(kelvins[which == index], *one)
        return out

    def inflow(inside, k, ambient):
        """W/m2 through a face half a cell from the middle, its own temperature found by Newton."""
        around = ambient + 273.15
        cell = inside + 273.15
        inward = k / (cell_size / 2)
        face = cell.copy()
        for _ in range(40):
            left = inward * (cell - face) + h * (around - face) + emissivity * SIGMA * (around**4 - face**4)
            slope = -inward - h - 4 * emissivity * SIGMA * face**3
            change = left / slope
            face = face - change
            if np.max(np.abs(change)) < 1e-10:
                break
        return inward * (face - cell)

    outer_area = 2 * np.pi * edges[1:-1] * cell_size

    def rate(moment, flat):
        energy = flat.reshape(rows, columns)
        t = temperatures(energy)
        k = conductivity(t)
        change = np.zeros_like(t)
        across = (t[:, 1:] - t[:, :-1]) * outer_area / (cell_size / (2 * k[:, 1:]) + cell_size / (2 * k[:, :-1]))
        change[:, :-1] += across
        change[:, 1:] -= across
        along = (t[1:] - t[:-1]) * floor / (cell_size / (2 * k[1:]) + cell_size / (2 * k[:-1]))
        change[:-1] += along
        change[1:] -= along
        ambient = np.interp(moment, ambient_at, ambient_to)
        change[:, -1] += inflow(t[:, -1], k[:, -1], ambient) * 2 * np.pi * edges[-1] * cell_size
        change[-1] += inflow(t[-1], k[-1], ambient) * floor
        change[0] += inflow(t[0], k[0], ambient) * floor
        return (change / volume).ravel()

    count = rows * columns
    number = np.arange(count).reshape(rows, columns)
    pairs = [(number.ravel(), number.ravel())]
    for a, b in [(number[:, 1:], number[:, :-1]), (number[1:], number[:-1])]:
        pairs += [(a.ravel(), b.ravel()), (b.ravel(), a.ravel())]
    row = np.concatenate([one for one, _ in pairs])
    column = np.concatenate([other for _, other in pairs])
    pattern = coo_matrix((np.ones(len(row)), (row, column)), shape=(count, count)).tocsr()

    start = np.empty((rows, columns))
    for index, one in enumerate(tables):
        start[which == index] = np.interp(case["initial_C"], GRID, one)
    times = case["times_s"]
    bends = [at for at in ambient_at if 0 < at < times[-1]]
    stops = sorted(set([0.0, *bends, float(times[-1])]))
    seen = {}
    state = start.ravel()
    for begin, end in zip(stops[:-1], stops[1:]):
        wanted = [one for one in times if begin < one <= end]
        answer = solve_ivp(
            rate,
            (begin, end),
            state,
            method="BDF",
            t_eval=sorted(set([*wanted, end])),
            rtol=rtol,
            atol=1e10 * rtol,
            jac_sparsity=pattern,
        )
        if not answer.success:
            raise SystemExit(answer.message)
        for index, moment in enumerate(answer.t):
            seen[float(moment)] = answer.y[:, index]
        state = answer.y[:, -1]

    def probe(flat, place):
        t = temperatures(flat.reshape(rows, columns))
        # mirrored across the axis, so that places nearer than the first node can be read
        radii = np.concatenate([[-r[0]], r])
        values = np.concatenate([t[:, :1], t], axis=1)
        return float(RegularGridInterpolator((z, radii), values)((place[1] / 1000, place[0] / 1000)))

    return [
        {"at_mm": place, "series": [[one, round(probe(seen[float(one)], place), 3)] for one in times]}
        for place in case["probes_mm"]
    ]


if __name__ == "__main__":
    asked = argparse.ArgumentParser()
    asked.add_argument("--cell-mm", type=float, default=1.0)
    asked.add_argument("--rtol", type=float, default=1e-5)
    asked.add_argument("--compare", action="store_true")
    asked.add_argument("names", nargs="*")
    options = asked.parse_args()
    for path in sorted(Path(".").glob("*.json")):
        if path.name.endswith(".solved.json") or (options.names and path.stem not in options.names):
            continue
        beside = path.with_name(path.stem + ".solved.json")
        case = json.loads(path.read_text())
        begun = time.process_time()
        probes = solve(case, options.cell_mm / 1000, options.rtol)
        spent = time.process_time() - begun
        print(f"{path.name}: {spent:.1f} s of processor time")
        if options.compare:
            stored = json.loads(beside.read_text())["probes"]
            worst = max(
                abs(here[1] - there[1])
                for mine, theirs in zip(probes, stored)
                for here, there in zip(mine["series"], theirs["series"])
            )
            print(f"  at most {worst:.2f} K from the stored answer")
            continue
        solved = {
            "input": path.name,
            "by": f"scipy {scipy.__version__} solve_ivp BDF, numpy {np.__version__}, "
            f"Python {platform.python_version()}",
            "cell_mm": options.cell_mm,
            "rtol": options.rtol,
            "probes": probes,
        }
        beside.write_text(json.dumps(solved, indent=1) + "\n")
