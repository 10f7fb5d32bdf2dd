#!/usr/bin/env python3
"""Write a CalculiX deck of a rod of rods.json under a dead force at its tip.

    python3 calculix.py R1 2.941995 90 100 weight > r1.inp    # N, degrees, elements
    OMP_NUM_THREADS=1 ccx -i r1
    tail -1 r1.dat                                            # node, ux, uy, uz of the tip

Beams B32R of a square section 2 mm wide; every element has the Young's modulus
that gives it the harmonic mean of its bending stiffness, and the density that
gives it its mass. The rod is clamped at the first node.
"""
import json
import math
import os
import sys

WIDTH = 2e-3  # m


def linear(knots, s):
    for (s0, v0), (s1, v1) in zip(knots, knots[1:]):
        if s <= s1:
            return v0 + (v1 - v0) * (s - s0) / (s1 - s0)
    return knots[-1][1]


def stiffness(rod, s):
    d, t = linear(rod["outside_s_D_m"], s), linear(rod["wall_s_t_m"], s)
    factor = next((f for a, b, f in rod["stiffened_s0_s1_factor"] if a <= s <= b), 1)
    return factor * rod["E_Pa"] * math.pi / 64 * (d**4 - (d - 2 * t) ** 4)


def mass(rod, s):
    d, t = linear(rod["outside_s_D_m"], s), linear(rod["wall_s_t_m"], s)
    return rod["density_kgm3"] * math.pi * t * (d - t)


def deck(rod, force, degrees, elements, weight):
    length = rod["length_m"]
    step = length / elements
    yield "*NODE, NSET=ALL"
    for i in range(2 * elements + 1):
        yield f"{i + 1}, {i * step / 2:.12g}, 0, 0"
    for e in range(elements):
        at = [(e + (k + 0.5) / 20) * step for k in range(20)]
        ei = 20 / sum(1 / stiffness(rod, s) for s in at)
        mu = sum(mass(rod, s) for s in at) / 20
        yield f"*ELEMENT, TYPE=B32R, ELSET=E{e}\n{e + 1}, {2 * e + 1}, {2 * e + 2}, {2 * e + 3}"
        yield f"*MATERIAL, NAME=M{e}\n*ELASTIC\n{12 * ei / WIDTH**4:.12g}, 0\n*DENSITY\n{mu / WIDTH**2:.12g}"
        yield f"*BEAM SECTION, ELSET=E{e}, MATERIAL=M{e}, SECTION=RECT\n{WIDTH}, {WIDTH}\n0, 0, 1"
    yield "*BOUNDARY\n1, 1, 6"
    yield "*STEP, NLGEOM, INC=1000\n*STATIC\n0.05, 1, 1e-6, 0.1"
    yield "*CONTROLS, PARAMETERS=FIELD\n1e-6, 1e-6"
    tip = 2 * elements + 1
    yield f"*CLOAD\n{tip}, 1, {force * math.cos(math.radians(degrees)):.12g}\n{tip}, 2, {force * math.sin(math.radians(degrees)):.12g}"
    if weight:
        yield "*DLOAD"
        for e in range(elements):
            yield f"E{e}, GRAV, 9.80665, 0, 1, 0"
    yield f"*NSET, NSET=TIP\n{tip}\n*NODE PRINT, NSET=TIP\nU\n*END STEP"


if __name__ == "__main__":
    here = os.path.dirname(os.path.abspath(__file__))
    with open(os.path.join(here, "rods.json")) as file:
        rods = json.load(file)
    name, force, degrees, elements = sys.argv[1:5]
    print("\n".join(deck(rods[name], float(force), float(degrees), int(elements), "weight" in sys.argv)))
