"""Makes uncertainties_loads.csv: relative scatter of loads by the package uncertainties 3.2.3.

The formulas are written out here again, so that the propagation and the formulas of the house
are both checked. Run: python uncertainties_loads.py > uncertainties_loads.csv
"""

import math
import sys
from importlib.metadata import version

# Case -> kind of part, mechanism, inputs as (value, coefficient of variation).
CASES = {
    "beam": {
        "width_mm": (38, 0.01),
        "depth_mm": (89, 0.01),
        "span_mm": (400, 0.005),
        "mor_MPa": (85, 0.16),
    },
    "washer": {"washer_mm": (38, 0.01), "hole_mm": (9, 0.02), "comp_perp_MPa": (5.5, 0.28)},
    "plate": {
        "thickness_mm": (18, 0.03),
        "width_mm": (100, 0.01),
        "hole_mm": (8, 0.02),
        "span_mm": (100, 0.02),
        "mor_MPa": (55, 0.15),
    },
    "post": {
        "width_mm": (38, 0.02),
        "depth_mm": (89, 0.01),
        "length_mm": (600, 0.01),
        "comp_par_MPa": (49.9, 0.18),
        "moe_MPa": (13400, 0.22),
    },
    "bolt off its axis": {
        "diameter_mm": (8, 0.005),
        "offset_mm": (1, 0.3),
        "proof_MPa": (580, 0.05),
    },
    "dowel": {
        "dowel_mm": (9.5, 0.02),
        "depth_mm": (32, 0.03),
        "shear_MPa": (13.8, 0.14),
        "dowel_shear_MPa": (13.9, 0.14),
    },
    "lap by its ends": {
        "width_mm": (25, 0.02),
        "overlap_mm": (25, 0.02),
        "thickness_mm": (10, 0.02),
        "moe_MPa": (12600, 0.22),
        "glue_stiffness_N_mm3": (10000, 0.5),
        "glue_shear_MPa": (19.6, 0.2),
    },
}


def load(case, v):
    """The load (N) of a case, from numbers with uncertainty."""
    from uncertainties import umath

    if case == "beam":
        size = (36125 / (v["depth_mm"] * v["span_mm"])) ** (1 / 18)
        return size * v["mor_MPa"] * v["width_mm"] * v["depth_mm"] ** 2 / 6 * 4 / v["span_mm"]
    if case == "washer":
        return v["comp_perp_MPa"] * math.pi / 4 * (v["washer_mm"] ** 2 - v["hole_mm"] ** 2)
    if case == "plate":
        modulus = (v["width_mm"] - v["hole_mm"]) * v["thickness_mm"] ** 2 / 6
        return 4 * v["mor_MPa"] * modulus / v["span_mm"]
    if case == "post":
        crush = v["comp_par_MPa"] * v["width_mm"] * v["depth_mm"]
        inertia = v["depth_mm"] * v["width_mm"] ** 3 / 12
        euler = math.pi**2 * v["moe_MPa"] * inertia / v["length_mm"] ** 2
        half = (1 + euler / crush) / 1.6
        return crush * (half - umath.sqrt(half**2 - euler / crush / 0.8))
    if case == "bolt off its axis":
        side = v["diameter_mm"] - 0.9382 * 1.25
        unit = 4 / (math.pi * side**2) + 32 * v["offset_mm"] / (math.pi * side**3)
        return v["proof_MPa"] / unit
    if case == "dowel":
        inches = (v["dowel_mm"] / 25.4) * (v["depth_mm"] / 25.4) ** 0.89
        shear = 0.95 * v["shear_MPa"] + v["dowel_shear_MPa"]
        return 0.834 * inches * shear * 145.03773773020923 * 4.4482216152605
    # The other piece's thickness, 10 mm, is known exactly.
    soft = 1 / (v["moe_MPa"] * v["thickness_mm"]) + 1 / (v["moe_MPa"] * 10)
    x = umath.sqrt(v["glue_stiffness_N_mm3"] * soft) * v["overlap_mm"] / 2
    return v["glue_shear_MPa"] * v["width_mm"] * v["overlap_mm"] / (x / umath.tanh(x))


def main() -> None:
    from uncertainties import ufloat

    out = sys.stdout
    out.write(f"# recorded with uncertainties {version('uncertainties')}\n")
    out.write("case,input,value,cv,load_N,exponent,relative_scatter\n")
    for case, inputs in CASES.items():
        numbers = {k: ufloat(v, v * cv) for k, (v, cv) in inputs.items()}
        found = load(case, numbers)
        mean, scatter = found.nominal_value, found.std_dev / found.nominal_value
        for key, (value, cv) in inputs.items():
            exponent = found.derivatives[numbers[key]] * value / mean
            figures = (value, cv, mean, exponent, scatter)
            out.write(",".join((case, key, *(repr(float(x)) for x in figures))) + "\n")


if __name__ == "__main__":
    main()
