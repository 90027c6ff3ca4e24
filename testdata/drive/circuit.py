#!/usr/bin/python3
"""Values for the tests of package motor/drive, from a general-purpose integrator.

    python3 circuit.py [NAME.toml ...]     writes NAME.csv beside each scenario (default: all here)

It shares nothing with the Go code but the scenario files. The states are the flux linkages of the
stationary frame (not currents), the angle and speed of the shaft, and the voltage of the link's capacitor.
Between gate edges, which brentq finds on the references and the carrier, scipy.integrate.solve_ivp (DOP853,
rtol 1e-12) integrates; its event location finds where a leg's current ends or a resting leg starts. How
the legs conduct after an event is found by trying all 27 combinations of delivering, taking and resting
legs for the one whose currents, slopes and terminal voltages agree with the devices' characteristics.

A delta is integrated as three windings in a ring, in windings.py. Needs Python 3.11, numpy, scipy.
"""
import csv
import itertools
import math
import pathlib
import sys
import tomllib

import numpy as np
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

HERE = pathlib.Path(__file__).parent
THIRD = 2 * math.pi / 3
AXES = np.array([[math.cos(k * THIRD), math.sin(k * THIRD)] for k in range(3)])
UNITS = {"V": 1, "ohm": 1, "mohm": 1e-3, "H": 1, "mH": 1e-3, "uH": 1e-6, "F": 1, "uF": 1e-6, "Hz": 1, "kHz": 1e3,
         "s": 1, "ms": 1e-3, "us": 1e-6, "A": 1, "Wb": 1, "mWb": 1e-3, "deg": math.pi / 180, "rad": 1, "rad/s": 1,
         "rpm": math.pi / 30}
SAMPLES = 24  # times at which the values are told


def si(x):
    """A number, or a string of a number and a unit."""
    if isinstance(x, str):
        number, unit = x.split()
        return float(number) * UNITS[unit]
    return x


# ---------------------------------------------------------------------------------------- gating

def commands(g, end):
    """The commanded edges [(time, leg, upper on, lower on)] to time end; those at 0 are the initial state."""
    kind, phase = g["pattern"], si(g.get("phase", 0))
    f, fc = si(g.get("frequency", 0)), si(g.get("carrier", 0))
    if kind in ("all-off", "all-low"):
        return [(0.0, k, False, kind == "all-low") for k in range(3)]
    if kind == "pulsed-low":
        out = []
        for n in range(int(end * fc) + 1):
            out += [(n / fc, k, False, True) for k in range(3)]
            out += [((n + g["duty"]) / fc, k, False, False) for k in range(3)]
        return out
    if kind in ("six-step-180", "six-step-120"):
        half = 90 if kind == "six-step-180" else 60
        def state(k, t):
            deg = (math.degrees(2 * math.pi * f * t + phase) - 120 * k + 180) % 360 - 180
            return abs(deg) < half, abs(deg) > 180 - half
        times = {0.0}
        for k in range(3):
            for edge in (-half, half, 180 - half, half - 180):
                first = ((edge + 120 * k) / 360 - phase / (2 * math.pi)) / f
                n = math.ceil(-first * f - 1e-12)
                while first + n / f < end:
                    times.add(first + n / f)
                    n += 1
        out = []
        for t in sorted(times):
            out += [(t, k, *state(k, t + 1e-9)) for k in range(3)]
        return out

    def reference(k, t):
        u = [g["modulation"] * math.cos(2 * math.pi * f * t + phase - THIRD * j) for j in range(3)]
        z = {"sine-triangle": 0, "space-vector": -(max(u) + min(u)) / 2}[kind]
        return min(max(u[k] + z, -1), 1)

    def carrier(t):
        x = (t * fc) % 1
        return 4 * x - 1 if x < 0.5 else 3 - 4 * x

    out = [(0.0, k, True, False) for k in range(3)]
    for n in range(int(2 * end * fc) + 1):
        a, b = n / (2 * fc), (n + 1) / (2 * fc)
        line = lambda t: (2 * (t - a) / (b - a) - 1) * (1 if n % 2 == 0 else -1)
        for k in range(3):
            d = lambda t: reference(k, t) - line(t)
            if d(a) * d(b) < 0:
                up = d(b) > 0
                out.append((brentq(d, a, b, xtol=1e-18, rtol=1e-15), k, up, not up))
    return out


def edges(g, end):
    """Gate edges [(time, {(leg, 0 upper or 1 lower): on})] with turn-ons delayed by the dead time."""
    dead = si(g.get("dead_time", 0))
    now, wanted, merged = {}, [], {0.0: {}}
    for t, k, up, low in sorted(commands(g, end)):
        for side, on in enumerate((up, low)):
            if now.get((k, side), False) != on:
                now[k, side] = on
                wanted.append([t, (k, side), on])
    for n, (t, key, on) in enumerate(wanted):
        if on and t > 0:
            off = min((w[0] for w in wanted[n + 1:] if w[1] == key), default=math.inf)
            t += dead
            if t >= off:  # swallowed; its turn-off finds it off already
                continue
        if t <= end:
            merged.setdefault(t, {})[key] = on
    return sorted(merged.items())


# --------------------------------------------------------------------------------------- circuit

class Circuit:
    atol = [1e-14, 1e-14, 1e-12, 1e-11, 1e-11]  # of a state's parts
    slack = 0  # A, by which a current may miss zero

    def __init__(self, s):
        self.cut = {"UVW".index(f["at"]) for f in s.get("fault", []) if f["kind"] == "phase-open"}
        m, sh, sw = s["machine"], s.get("shaft", {}), s.get("switches", {})
        self.p = m.get("pole_pairs", 0)
        self.R = si(m["resistance"])
        self.Ld = si(m.get("inductance_d", m.get("inductance")))
        self.Lq = si(m.get("inductance_q", m.get("inductance")))
        self.psi = si(m.get("flux_linkage", 0))
        self.V, self.Rs = si(s["supply"]["voltage"]), si(s["supply"].get("resistance", 0))
        self.C = si(s["supply"].get("capacitance", 0))
        self.series = si(s["supply"].get("capacitor_resistance", 0))
        self.free = sh.get("free", False)
        self.speed0 = si(sh.get("start_speed" if self.free else "speed", 0))
        self.theta0 = si(sh.get("start_angle", 0))
        self.J, self.load, self.friction = sh.get("inertia", 1), sh.get("load_torque", 0), sh.get("friction", 0)
        self.Vf, self.Rf = si(sw.get("channel_threshold", 0)), si(sw.get("channel_resistance", 0))
        self.Vd, self.Rd = si(sw.get("diode_threshold", 0)), si(sw.get("diode_resistance", 0))
        self.both = sw.get("both_ways", False)
        self.ideal = not any((self.Vf, self.Rf, self.Vd, self.Rd))
        self.gates = {}

    # state y: flux alpha, flux beta, electrical angle, mechanical speed, link
    def start(self):
        return np.array([self.psi * math.cos(self.theta0), self.psi * math.sin(self.theta0), self.theta0,
                         self.speed0, self.V])

    def currents(self, y):
        c, s = math.cos(y[2]), math.sin(y[2])
        d = (c * y[0] + s * y[1] - self.psi) / self.Ld
        q = (c * y[1] - s * y[0]) / self.Lq
        return d, q, np.array([c * d - s * q, s * d + c * q])

    def link(self, y, modes, i):
        drawn = sum(i[k] for k in range(3) if modes[k] and self.branch(k, modes[k])[0])
        if self.C and self.Rs:
            if self.series:  # Kirchhoff's current law at the rail
                return (self.V / self.Rs + y[4] / self.series - drawn) / (1 / self.Rs + 1 / self.series)
            return y[4]
        return self.V - self.Rs * drawn

    def branch(self, k, mode):
        """(by the upper rail, offset, resistance) of leg k delivering (1) or taking (-1) current."""
        up, low = self.gates.get((k, 0), False), self.gates.get((k, 1), False)
        reverse = (self.Vf, self.Rf) if self.ideal or self.both and self.Vf <= self.Vd else (self.Vd, self.Rd)
        if mode > 0:  # into the machine: upper channel forward, or from the lower rail upward
            if up:
                return 1, -self.Vf, self.Rf
            return (0, -reverse[0], reverse[1]) if low else (0, -self.Vd, self.Rd)
        if low:
            return 0, self.Vf, self.Rf
        return (1, reverse[0], reverse[1]) if up else (1, self.Vd, self.Rd)

    def span(self, k, link):
        """The terminal's bounds between which leg k rests."""
        if k in self.cut:
            return -math.inf, math.inf
        (a, va, _), (b, vb, _) = self.branch(k, 1), self.branch(k, -1)
        return a * link + va, b * link + vb

    def rigid(self, k):
        low, high = self.span(k, 1.0)
        return low == high and self.branch(k, 1)[0] == self.branch(k, -1)[0]

    def flux_slope(self, pole, i):
        return 2 / 3 * AXES.T @ pole - self.R * i

    def current_slope(self, y, lam):
        """d(i alpha, i beta)/dt when the flux changes by lam."""
        c, s, w = math.cos(y[2]), math.sin(y[2]), self.p * y[3]
        _, _, i = self.currents(y)
        fd, fq = c * y[0] + s * y[1], c * y[1] - s * y[0]
        d = (c * lam[0] + s * lam[1] + w * fq) / self.Ld
        q = (c * lam[1] - s * lam[0] - w * fd) / self.Lq
        return np.array([c * d - s * q - w * i[1], s * d + c * q + w * i[0]])

    def poles(self, y, modes):
        """Terminal voltages with the given modes; that of a resting leg keeps its current at zero."""
        _, _, i = self.currents(y)
        phase = AXES @ i
        link = self.link(y, modes, phase)
        pole = np.zeros(3)
        rest = [k for k in range(3) if modes[k] == 0]
        for k in range(3):
            if modes[k]:
                a, v, r = self.branch(k, modes[k])
                pole[k] = a * link + v - r * phase[k]
        if len(rest) == 1:
            k = rest[0]
            rate = []
            for x in (0.0, 1.0):
                pole[k] = x
                rate.append(AXES[k] @ self.current_slope(y, self.flux_slope(pole, i)))
            pole[k] = -rate[0] / (rate[1] - rate[0])
        elif len(rest) == 3:
            w = self.p * y[3]
            pole = AXES @ (w * self.psi * np.array([-math.sin(y[2]), math.cos(y[2])]))  # against the star point
        return pole, link

    def slope(self, t, y, modes):
        d, q, i = self.currents(y)
        pole, link = self.poles(y, modes)
        lam = self.flux_slope(pole, i)
        out = np.array([lam[0], lam[1], self.p * y[3], 0, 0])
        if self.free:
            out[3] = (self.torque(y) - self.load - self.friction * y[3]) / self.J
        if self.C and self.Rs:
            phase = AXES @ i
            drawn = sum(phase[k] for k in range(3) if modes[k] and self.branch(k, modes[k])[0])
            out[4] = ((self.V - self.link(y, modes, phase)) / self.Rs - drawn) / self.C
        return out

    def torque(self, y):
        _, _, i = self.currents(y)
        return 1.5 * self.p * (y[0] * i[1] - y[1] * i[0])

    def more(self, y):
        """What is told besides."""
        return []

    def gap(self, y):
        e, link = self.poles(y, (0, 0, 0))
        spans = [self.span(k, link) for k in range(3)]
        return min(spans[k][1] - e[k] for k in range(3)) - max(spans[k][0] - e[k] for k in range(3))

    def conduct(self, y, scale):
        """The modes that agree with the currents, their slopes and the devices."""
        _, _, i = self.currents(y)
        phase = AXES @ i
        eps_i, eps_v = 1e-9 * scale, 1e-9 * self.V
        best = None
        for modes in itertools.product((1, -1, 0), repeat=3):
            if sum(m == 0 for m in modes) == 2 or any(modes[k] for k in self.cut):
                continue
            wrong = 0.0
            pole, link = self.poles(y, modes)
            if modes == (0, 0, 0):
                if max(abs(phase)) > eps_i:
                    continue
                wrong = max(0, -self.gap(y) - eps_v)
            else:
                di = AXES @ self.current_slope(y, self.flux_slope(pole, i))
                for k in range(3):
                    low, high = self.span(k, link)
                    if modes[k] == 0:
                        if abs(phase[k]) > eps_i:
                            wrong = math.inf
                        wrong = max(wrong, low - pole[k] - eps_v, pole[k] - high - eps_v)
                    elif abs(phase[k]) > eps_i:
                        wrong = max(wrong, 0 if modes[k] * phase[k] > 0 else math.inf)
                    elif modes[k] * di[k] <= 0:
                        same = self.branch(k, 1) == self.branch(k, -1)
                        wrong = max(wrong, 0 if same else abs(di[k]) + 1)
            if best is None or wrong < best[0]:
                best = wrong, modes
        if best[0] > 0:
            raise ArithmeticError(f"no way to conduct: {best}")
        return best[1]

    def ends(self, modes):
        """Event functions, positive until a leg's current ends or a resting leg starts."""
        out = []
        def event(f):
            f.terminal, f.direction = True, -1
            out.append(f)
        if modes == (0, 0, 0):
            event(lambda t, y, *_: self.gap(y) + 2e-9 * self.V)
            return out
        for k in range(3):
            if modes[k] == 0:
                event(lambda t, y, *_, k=k: self.margin(y, modes, k, 0) + 2e-9 * self.V)
                event(lambda t, y, *_, k=k: self.margin(y, modes, k, 1) + 2e-9 * self.V)
            elif self.branch(k, 1) != self.branch(k, -1):
                event(lambda t, y, *_, k=k: modes[k] * (AXES[k] @ self.currents(y)[2]) + self.slack)
        return out

    def margin(self, y, modes, k, side):
        pole, link = self.poles(y, modes)
        low, high = self.span(k, link)
        return pole[k] - low if side == 0 else high - pole[k]

    def drop(self, y, k):
        """Takes the last rounding of current away from a leg that has just come to rest."""
        _, _, i = self.currents(y)
        phase = AXES @ i
        keep = np.array([-AXES[k][1], AXES[k][0]])
        i = keep * (keep @ i)
        c, s = math.cos(y[2]), math.sin(y[2])
        d, q = c * i[0] + s * i[1], c * i[1] - s * i[0]
        fd, fq = self.Ld * d + self.psi, self.Lq * q
        y[0], y[1] = c * fd - s * fq, s * fd + c * fq


def run(s, of=Circuit):
    g, end = s["gating"], si(s["run"]["measure"])
    c = of(s)
    y, t, scale = c.start(), 0.0, 1.0
    edges_left = edges(g, end)
    wanted = [end * (j + 0.6180339887) / SAMPLES for j in range(SAMPLES)]
    rows = []
    stop = [e[0] for e in edges_left[1:]] + [end]
    for (_, change), until in zip(edges_left, stop):
        c.gates.update(change)
        while True:
            modes = c.conduct(y, scale)
            if t >= until:
                break
            # A current that starts from zero must not end at once: look for events after a first little bit.
            events = c.ends(modes)
            here = [w for w in wanted if t < w <= until]
            res = solve_ivp(c.slope, (t, until), y, "DOP853", t_eval=None, events=events, args=(modes,), rtol=1e-12,
                            atol=c.atol, max_step=2e-4, dense_output=True)
            if not res.success:
                raise ArithmeticError(res.message)
            for w in here:
                if w <= res.t[-1]:
                    rows.append((w, tell(c, res.sol(w), modes)))
            t, y = res.t[-1], res.y[:, -1].copy()
            scale = max(scale, *abs(AXES @ c.currents(y)[2]))
            for k, m in enumerate(modes):
                if m and abs(AXES[k] @ c.currents(y)[2]) < 1e-9 * scale and c.branch(k, 1) != c.branch(k, -1):
                    c.drop(y, k)
            if res.status == 0:
                t = until
    return rows


def tell(c, y, modes):
    d, q, i = c.currents(y)
    return [*(AXES @ i), d, q, c.torque(y), y[3], c.link(y, modes, AXES @ i), *c.more(y)]


HEAD = ["time_s", "u_a", "v_a", "w_a", "id_a", "iq_a", "torque_nm", "speed_rad_s", "link_v"]


def write(path, rows, more=()):
    with open(path.with_suffix(".csv"), "w", newline="") as f:
        out = csv.writer(f, lineterminator="\n")
        out.writerow([*HEAD, *more])
        for t, values in rows:
            out.writerow([repr(float(x)) for x in (t, *values)])


if __name__ == "__main__":
    for name in sys.argv[1:] or sorted(HERE.glob("*.toml")):
        path = pathlib.Path(name)
        scenario = tomllib.loads(path.read_text())
        if scenario["machine"].get("connection") == "delta" or path.name.startswith("turns-"):
            continue
        write(path, run(scenario))
        print(path.name)
