#!/usr/bin/python3
"""A machine with shorted turns, for the tests of package motor/drive.

    python3 turns.py        writes turns-*.csv beside the scenarios

In phase variables: four coils, the faulty winding being two of them in series, each with its turns, its axis, its
resistance, a share of the air gap's field and a leakage of its own; the star's neutral joins three, and the fourth,
the shorted group, is closed on itself. States are the flux linkages of the three loops. The switches and the search
for how they conduct are those of circuit.py. scipy.integrate.solve_ivp, DOP853, rtol 1e-12.
"""
import math
import tomllib

import numpy as np

from circuit import AXES, HERE, THIRD, Circuit, run, write

LEAKAGE = 0.1  # of a phase, as a part of the lesser inductance


class Shorted(Circuit):
    atol = [1e-14, 1e-14, 1e-12, 1e-11, 1e-11, 1e-14]
    slack = 1e-12  # currents are solved for

    # state y: linkage of the loops U-W and V-W, electrical angle, mechanical speed, link, linkage of the group
    def __init__(self, s):
        super().__init__(s)
        fault, = [f for f in s["fault"] if f["kind"] == "turns-shorted"]
        self.m, share = "UVW".index(fault["at"]), fault["value"]
        self.flat = s["machine"].get("emf") == "trapezoid"
        # Coils U, V, W with the turns that the short leaves, and the shorted group.
        turns = [1.0, 1.0, 1.0, share]
        turns[self.m] -= share
        self.turns = np.array(turns)
        self.axes = np.vstack([AXES, AXES[self.m]])
        self.of = [0, 1, 2, self.m]
        self.leak = np.diag(LEAKAGE * min(self.Ld, self.Lq) * self.turns)
        self.ohms = self.R * self.turns
        self.loops = np.array([[1, 0, 0], [0, 1, 0], [-1, -1, 0], [0, 0, 1]], float)  # coil currents of loop currents

    def inductance(self, theta):
        """The loops' matrix and its change with the angle."""
        l = LEAKAGE * min(self.Ld, self.Lq)
        mean, half = (self.Ld + self.Lq) / 2 - l, (self.Ld - self.Lq) / 2
        c, s = math.cos(2 * theta), math.sin(2 * theta)
        gap = mean * np.eye(2) + half * np.array([[c, s], [s, -c]])
        turning = 2 * half * np.array([[-s, c], [c, s]])
        a = self.turns[:, None] * self.axes
        full = lambda x: self.loops.T @ (2 / 3 * a @ x @ a.T) @ self.loops
        return full(gap) + self.loops.T @ self.leak @ self.loops, full(turning)

    def magnet(self, theta):
        """The magnet's linkages with the coils, and their change with the angle."""
        x = np.array([(theta - k * THIRD + math.pi) % (2 * math.pi) - math.pi for k in self.of])
        if not self.flat:
            return self.psi * self.turns * np.cos(x), -self.psi * self.turns * np.sin(x)
        w, x, sign = math.pi / 6, abs(x), np.sign(x)
        near = np.where(x < math.pi / 2, x, math.pi - x)
        fall = np.where(near < w, near**2 / (2 * w), near - w / 2)  # of the linkage from its peak, or from its trough
        total = math.pi - w
        fall = np.where(x < math.pi / 2, fall, total - fall)
        return self.psi * self.turns * (total / 2 - fall), -self.psi * self.turns * sign * np.minimum(1, near / w)

    def start(self):
        linked, _ = self.magnet(self.theta0)
        a, b, ring = self.loops.T @ linked
        return np.array([a, b, self.theta0, self.speed0, self.V, ring])

    def loop_currents(self, y):
        linked, _ = self.magnet(y[2])
        matrix, _ = self.inductance(y[2])
        return np.linalg.solve(matrix, np.array([y[0], y[1], y[5]]) - self.loops.T @ linked)

    def currents(self, y):
        a, b, _ = self.loop_currents(y)
        i = 2 / 3 * AXES.T @ np.array([a, b, -a - b])
        c, s = math.cos(y[2]), math.sin(y[2])
        return c * i[0] + s * i[1], c * i[1] - s * i[0], i

    def flux_slope(self, pole, i):
        return np.array([pole[0] - pole[2], pole[1] - pole[2], 0])  # the loops' voltages

    def loop_slope(self, y, volts):
        w = self.p * y[3]
        x = self.loop_currents(y)
        matrix, turning = self.inductance(y[2])
        _, emf = self.magnet(y[2])
        drop = self.loops.T @ (self.ohms * (self.loops @ x))
        return np.linalg.solve(matrix, volts - drop - w * (turning @ x + self.loops.T @ emf))

    def current_slope(self, y, volts):
        a, b, _ = self.loop_slope(y, volts)
        return 2 / 3 * AXES.T @ np.array([a, b, -a - b])

    def poles(self, y, modes):
        if any(modes):
            return super().poles(y, modes)
        # No current in the leads, nor a change of it: the group alone moves.
        w = self.p * y[3]
        x = self.loop_currents(y)
        matrix, turning = self.inductance(y[2])
        _, emf = self.magnet(y[2])
        moved = self.loops.T @ (self.ohms * (self.loops @ x)) + w * (turning @ x + self.loops.T @ emf)
        volts = moved - matrix[:, 2] * moved[2] / matrix[2, 2]
        return np.array([volts[0], volts[1], 0]), self.link(y, modes, np.zeros(3))

    def slope(self, t, y, modes):
        _, _, i = self.currents(y)
        pole, _ = self.poles(y, modes)
        drop = self.loops.T @ (self.ohms * (self.loops @ self.loop_currents(y)))
        loops = self.flux_slope(pole, i) - drop
        out = np.array([loops[0], loops[1], self.p * y[3], 0, 0, loops[2]])
        if self.free:
            out[3] = (self.torque(y) - self.load - self.friction * y[3]) / self.J
        if self.C and self.Rs:
            phase = AXES @ i
            drawn = sum(phase[k] for k in range(3) if modes[k] and self.branch(k, modes[k])[0])
            out[4] = ((self.V - y[4]) / self.Rs - drawn) / self.C
        return out

    def torque(self, y):
        x = self.loop_currents(y)
        _, turning = self.inductance(y[2])
        _, emf = self.magnet(y[2])
        return self.p * (x @ turning @ x / 2 + x @ (self.loops.T @ emf))

    def drop(self, y, k):
        x = self.loop_currents(y)
        lead = [x[0], x[1], -x[0] - x[1]]
        lead = [0 if j == k else lead[j] + lead[k] / 2 for j in range(3)]
        linked, _ = self.magnet(y[2])
        matrix, _ = self.inductance(y[2])
        y[0], y[1], y[5] = matrix @ np.array([lead[0], lead[1], x[2]]) + self.loops.T @ linked

    def more(self, y):
        return [self.loop_currents(y)[2]]


if __name__ == "__main__":
    for path in sorted(HERE.glob("turns-*.toml")):
        write(path, run(tomllib.loads(path.read_text()), Shorted), ["turns_a"])
        print(path.name)
