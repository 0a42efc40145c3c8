"""Makes anastruct_beams.csv: beams on two supports by anastruct 1.7.0 (a plane frame program).

Run: python anastruct_beams.py > anastruct_beams.csv, with anastruct 1.7.0 installed.
Lengths in m, forces in kN there; mm, N and MPa in the table.
"""

import itertools
import sys
from importlib.metadata import version

CASES = [
    # width, depth, span, spread (mm), load (N), modulus of elasticity (MPa)
    (38.0, 89.0, 400.0, 0.0, 6000.0, 13_400.0),
    (38.0, 89.0, 400.0, 400.0, 6000.0, 13_400.0),
    (38.0, 89.0, 800.0, 200.0, 4000.0, 13_400.0),
    (100.0, 18.0, 100.0, 0.0, 5000.0, 10_048.0),
    (45.0, 45.0, 1000.0, 500.0, 1000.0, 12_600.0),
]


def solved(
    width: float, depth: float, span: float, spread: float, load: float, moe: float
) -> tuple[float, float]:
    """Largest moment (N mm) and deflection in the middle (mm)."""
    from anastruct import SystemElements

    inertia = width * depth**3 / 12.0 * 1e-12
    frame = SystemElements(EI=moe * 1e3 * inertia, EA=1e9)
    marks = sorted({0.0, (span - spread) / 2.0, span / 2.0, (span + spread) / 2.0, span})
    for start, end in itertools.pairwise(marks):
        frame.add_element(location=[[start / 1e3, 0.0], [end / 1e3, 0.0]])
    frame.add_support_hinged(1)
    frame.add_support_roll(len(marks))
    middle = marks.index(span / 2.0) + 1
    if spread == 0.0:
        frame.point_load(middle, Fy=-load / 1e3)
    else:
        for k, (start, end) in enumerate(itertools.pairwise(marks), 1):
            if start >= (span - spread) / 2.0 and end <= (span + spread) / 2.0:
                frame.q_load(q=-load / spread, element_id=k)
    frame.solve()
    moment = max(
        max(abs(r["Mmin"]), abs(r["Mmax"])) for r in frame.get_element_results(element_id=0)
    )
    sag = abs(frame.get_node_displacements(node_id=middle)["uy"])
    return float(moment) * 1e6, float(sag) * 1e3


def main() -> None:
    out = sys.stdout
    out.write(f"# recorded with anastruct {version('anastruct')}\n")
    out.write("width_mm,depth_mm,span_mm,spread_mm,load_N,moe_MPa,moment_Nmm,bending_mm\n")
    for case in CASES:
        out.write(",".join(repr(x) for x in (*case, *solved(*case))) + "\n")


if __name__ == "__main__":
    main()
