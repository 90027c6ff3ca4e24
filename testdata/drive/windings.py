#!/usr/bin/python3
"""Line currents of a delta under six-step and sine-triangle, for the tests of package motor/drive.

    python3 windings.py     writes delta-*.csv beside the scenarios

Three windings in a ring, each with its own current, resistance, inductance and EMF, driven by the line
voltages of ideal switches: no equivalent star. The winding from U to V has its EMF 30 degrees ahead of
phase U's of the equivalent star, whose d axis the scenario's start_angle speaks of. The ring's own current is
zero, for its EMFs sum to zero. scipy.integrate.solve_ivp, DOP853, rtol 1e-12.
"""
import math
import pathlib
import tomllib

import numpy as np
from scipy.integrate import solve_ivp

from circuit import HERE, SAMPLES, THIRD, edges, si, write


def run(s):
    m, end = s["machine"], si(s["run"]["measure"])
    p, R, L, psi = m["pole_pairs"], si(m["resistance"]), si(m["inductance_d"]), si(m["flux_linkage"])
    V, speed, theta0 = si(s["supply"]["voltage"]), si(s["shaft"]["speed"]), si(s["shaft"].get("start_angle", 0))
    w = p * speed

    def slope(t, i, up):
        pole = V * np.array(up, float)
        line = pole - np.roll(pole, -1)  # UV, VW, WU
        emf = np.array([-w * psi * math.sin(w * t + theta0 + math.pi / 6 - k * THIRD) for k in range(3)])
        return (line - R * i - emf) / L

    edges_left, up, i, t, rows = edges(s["gating"], end), [False] * 3, np.zeros(3), 0.0, []
    wanted = [end * (j + 0.6180339887) / SAMPLES for j in range(SAMPLES)]
    for (_, change), until in zip(edges_left, [e[0] for e in edges_left[1:]] + [end]):
        for (k, side), on in change.items():
            if side == 0:
                up[k] = on
        res = solve_ivp(slope, (t, until), i, "DOP853", args=(tuple(up),), rtol=1e-12, atol=1e-13, max_step=1e-4,
                        dense_output=True)
        for x in wanted:
            if t < x <= until:
                i = res.sol(x)
                emf = [-w * psi * math.sin(w * x + theta0 + math.pi / 6 - k * THIRD) for k in range(3)]
                line = i - np.roll(i, 1)  # what flows into U is UV's current less WU's
                th = w * x + theta0
                d = 2 / 3 * sum(line[k] * math.cos(th - k * THIRD) for k in range(3))
                q = -2 / 3 * sum(line[k] * math.sin(th - k * THIRD) for k in range(3))
                rows.append((x, [*line, d, q, float(np.dot(emf, i)) / speed, speed, V]))
        t, i = until, res.y[:, -1]
    return rows


if __name__ == "__main__":
    for path in sorted(HERE.glob("delta-*.toml")):
        write(path, run(tomllib.loads(path.read_text())))
        print(path.name)
