"""Least-squares planes by numpy, and reactions of continuous beams by PyNiteFEA."""

import csv

import numpy
from Pynite import FEModel3D

SPAN = 96.0  # in
LOAD = 100.0 / 12.0  # lbf/in


def write(name, header, rows):
    with open(name, "w", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(header)
        writer.writerows(rows)


def spaced(values, digits):
    return " ".join(f"{value:.{digits}f}" for value in values)


def planes():
    chance = numpy.random.default_rng(3285)
    for _ in range(40):
        count = int(chance.integers(3, 13))
        x = numpy.round(chance.uniform(0, 40, count), 2)
        y = numpy.round(chance.uniform(0, 12, count), 2)
        z = numpy.round(chance.normal(0, 0.5, count) + chance.normal() * x / 20, 3)
        matrix = numpy.column_stack([x, y, numpy.ones(count)])
        (a, b, c), *_ = numpy.linalg.lstsq(matrix, z, rcond=None)
        residual = numpy.abs(z - matrix @ [a, b, c]).max()
        pitch, roll = numpy.degrees(numpy.arctan(numpy.array([a, b]) / 12))
        yield [spaced(x, 2), spaced(y, 2), spaced(z, 3), *(f"{n:.9f}" for n in (pitch, roll, residual))]


def reactions(spans):
    model = FEModel3D()
    model.add_material("steel", 29e6, 11.2e6, 0.3, 0.284)
    model.add_section("rail", 10.0, 50.0, 50.0, 100.0)
    for node in range(spans + 1):
        model.add_node(f"N{node}", node * SPAN, 0, 0)
        model.def_support(f"N{node}", node == 0, True, True, True, False, False)
    for span in range(spans):
        model.add_member(f"M{span}", f"N{span}", f"N{span + 1}", "steel", "rail")
        model.add_member_dist_load(f"M{span}", "FY", -LOAD, -LOAD)
    model.analyze_linear()
    return [model.nodes[f"N{node}"].RxnFY["Combo 1"] for node in range(spans + 1)]


def main():
    write("planes.csv", ["x", "y", "z", "pitch", "roll", "residual"], planes())
    rows = ([spans, f"{LOAD * SPAN * spans:.1f}", spaced(reactions(spans), 6)] for spans in range(1, 13))
    write("reactions.csv", ["spans", "weight", "reactions"], rows)


if __name__ == "__main__":
    main()
