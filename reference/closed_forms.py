"""Mechanisms with closed-form answers, and the printed tables kept beside them.

Writes data/closed-forms.json: one section each, "tag" says whether its figures
are worked out here ("calc") or read in a source that the tag names.

Run: python closed_forms.py [--out FOLDER]
"""

import argparse
import json
import math
from pathlib import Path

import numpy as np

from common import contact_offset, degrees, metres, toe_camber_deg, unit

SEED = 20251126
DATA = Path(__file__).parent / "data"
TRAVELS = [-0.06, -0.03, 0.0, 0.03, 0.06]


# --- spatial slider-crank ------------------------------------------------------


def slider_crank():
    """Crank about x at (0, 0.10, 0.12), radius 0.08; rod 0.30; slider on x."""
    cases = []
    for angle in range(0, 360, 15):
        th = math.radians(angle)
        y = 0.1 - 0.08 * math.sin(th)
        z = 0.12 + 0.08 * math.cos(th)
        x = math.sqrt(0.09 - y * y - z * z)
        # x^2 + y^2 + z^2 = const: x x' = -(y y' + z z')
        slope = (y * 0.08 * math.cos(th) + z * 0.08 * math.sin(th)) / x
        pin = [0.0, y, z]
        cases.append(
            {
                "crank_deg": angle,
                "pin": metres(pin),
                "slider_x": metres(x),
                "dx_dth_m_per_rad": metres(slope),
            }
        )
    given = {"centre": [0.0, 0.10, 0.12], "crank": 0.08, "rod": 0.30, "axis": [1, 0, 0]}
    return {"tag": "calc", "about": "th from +z toward -y about x", **given}, cases


# --- planar four-bar by Freudenstein's equation -----------------------------------


def freudenstein(a, b, c, d, phi, branch):
    """Output angle psi [rad] and d psi / d phi.

    Ground pivots (0, 0) and (d, 0), crank a at phi, rocker c at psi, coupler b:
    K1 cos psi - K2 cos phi + K3 = cos(phi - psi), a quadratic in tan(psi / 2).
    """
    k1, k2 = d / a, d / c
    k3 = (a * a - b * b + c * c + d * d) / (2 * a * c)
    first = math.cos(phi) - k1 - k2 * math.cos(phi) + k3
    second = -2 * math.sin(phi)
    third = k1 - (k2 + 1) * math.cos(phi) + k3
    root = math.sqrt(second * second - 4 * first * third)
    psi = 2 * math.atan2(-second + branch * root, 2 * first)
    psi = math.remainder(psi, 2 * math.pi)
    turn = math.sin(phi - psi)
    return psi, (k2 * math.sin(phi) + turn) / (k1 * math.sin(psi) + turn)


def four_bars():
    rng = np.random.default_rng(SEED)
    cases = []
    while len(cases) < 50:
        a, b, c, d = (round(v, 4) for v in rng.uniform(0.04, 0.4, 4))
        others = sorted([b, c, d])
        # Grashof with the crank shortest, with room; then it turns fully.
        if a > others[0] or a + others[2] > 0.9 * (others[0] + others[1]):
            continue
        # Transmission angle between coupler and rocker, at its two extremes.
        cosines = [(b * b + c * c - g * g) / (2 * b * c) for g in (d - a, d + a)]
        if max(map(abs, cosines)) > math.cos(math.radians(25)):
            continue
        branch = 1 if len(cases) % 2 else -1
        positions = []
        for angle in range(0, 360, 15):
            phi = math.radians(angle)
            psi, slope = freudenstein(a, b, c, d, phi, branch)
            pin = np.array([a * math.cos(phi), a * math.sin(phi)])
            end = np.array([d + c * math.cos(psi), c * math.sin(psi)])
            assert abs(math.dist(pin, end) - b) < 1e-14
            step = 1e-5
            ahead = freudenstein(a, b, c, d, phi + step, branch)[0]
            behind = freudenstein(a, b, c, d, phi - step, branch)[0]
            change = math.remainder(ahead - behind, 2 * math.pi)
            assert abs(slope - change / (2 * step)) < 1e-6
            side = np.cross([*(end - pin), 0], [d - end[0], -end[1], 0])[2]
            positions.append(
                {
                    "in_deg": angle,
                    "out_deg": degrees(math.degrees(psi)),
                    "dout_din": metres(slope),
                    "coupler_in": metres(pin),
                    "coupler_out": metres(end),
                    "elbow": 1 if side > 0 else -1,
                }
            )
        # One assembly branch: coupler and rocker keep their sense.
        assert len({p["elbow"] for p in positions}) == 1
        elbow = {p.pop("elbow") for p in positions}.pop()
        lengths = {"crank": a, "coupler": b, "rocker": c, "ground": d}
        cases.append(lengths | {"elbow": elbow, "positions": positions})
    about = (
        "ground pivots (0,0), (ground,0); angles from +x; elbow is the sign of "
        "(coupler_out - coupler_in) x (rocker pivot - coupler_out)"
    )
    return {"tag": "calc", "seed": SEED, "about": about}, cases


# --- the seven-body squeezer --------------------------------------------------------


def squeezer():
    """Joint positions of two states known from the initial-value test set."""
    rr, d, e, zf, zt, u, ss = 0.007, 0.028, 0.02, 0.02, 0.04, 0.04, 0.035
    a, b = np.array([-0.06934, -0.00227]), np.array([-0.03635, 0.03273])
    states = {
        "start": [
            -0.06171389001427645, 0.0, 0.4552798191630704, 0.22266839016588588,
            0.48736497954384255, -0.22266839016588588, 1.2305474445498212,
        ],
        "0.03 s": [
            15.81077119629904, -15.75637105984298, 0.04082224013073101,
            -0.5347301163226948, 0.5244099658805304, 0.5347301163226948,
            1.048080741042263,
        ],
    }  # fmt: skip

    def along(angle):
        return np.array([math.cos(angle), math.sin(angle)])

    def across(angle):
        return np.array([math.sin(angle), -math.cos(angle)])

    cases = []
    for name, (beta, theta, gamma, phi, delta, omega, epsilon) in states.items():
        f = rr * along(beta)
        common = f - d * along(beta + theta)
        g = a + zt * along(delta)
        h = a + u * across(epsilon)
        # The three loops meet in the common joint.
        for other in (
            b + ss * across(gamma),
            g + e * across(phi + delta),
            h + zf * along(omega + epsilon),
        ):
            assert np.abs(common - other).max() < 1e-15
        joints = {"O": [0, 0], "F": f, "E": common, "A": a, "B": b, "G": g, "H": h}
        cases.append(
            {"state": name, "joints": {n: metres(p) for n, p in joints.items()}}
        )
    lengths = {"OF": rr, "FE": d, "BE": ss, "GE": e, "AG": zt, "HE": zf, "AH": u}
    return {
        "tag": "states remembered, verified by the loops; positions calc",
        "lengths": lengths,
    }, cases


# --- parallel equal wishbones --------------------------------------------------------


def parallel_wishbones():
    """Level parallel equal arms and tie rod: the knuckle moves without turning."""
    cases = []
    for arm in (0.25, 0.32, 0.40):
        inner, outer = 0.70 - arm, 0.70
        points = {
            "lower-arm.body-fore": [0.12, inner, 0.18],
            "lower-arm.body-aft": [-0.15, inner, 0.18],
            "lower-arm.ball": [0.0, outer, 0.18],
            "upper-arm.body-fore": [0.10, inner, 0.44],
            "upper-arm.body-aft": [-0.12, inner, 0.44],
            "upper-arm.ball": [0.0, outer, 0.44],
            "tie-rod.body": [-0.13, inner, 0.25],
            "tie-rod.upright": [-0.13, outer, 0.25],
        }
        stations = []
        for travel in TRAVELS:
            angle = math.asin(travel / arm)
            stations.append(
                {
                    "travel": travel,
                    "lateral": metres(-arm * (1 - math.cos(angle))),
                    "centre_dy_dz": metres(-math.tan(angle)),
                    "contact_dy_dz": metres(-math.tan(angle)),
                    "toe_deg": 0.0,
                    "camber_deg": 0.0,
                }
            )
        wheel = {"centre": [0.0, 0.75, 0.30], "spin": [0.0, 1.0, 0.0], "radius": 0.30}
        points = {n: metres(p) for n, p in points.items()}
        cases.append(
            {"arm": arm, "points": points, "wheel": wheel, "stations": stations}
        )
    return {"tag": "calc", "about": "lateral = -arm (1 - cos a)"}, cases


# --- rotation about one skew axis -----------------------------------------------------


def skew_axis(points, wheel, travel):
    """One station of a wheel on a hinge, the angle itself in closed form."""
    start = np.array(points["arm.pivot-inner"], float)
    axis = unit(np.array(points["arm.pivot-outer"], float) - start)
    centre, spin = (
        np.array(wheel["centre"], float),
        unit(np.array(wheel["spin"], float)),
    )

    def turned(v, angle):
        c, s = math.cos(angle), math.sin(angle)
        return c * v + s * np.cross(axis, v) + (1 - c) * (axis @ v) * axis

    arm = centre - start
    # Height of the centre: p sin a + q (cos a - 1) = travel
    p = np.cross(axis, arm)[2]
    q = arm[2] - (axis @ arm) * axis[2]
    if p < 0:  # turn the axis over so that the wheel rises with the angle
        return skew_axis(
            {
                "arm.pivot-inner": points["arm.pivot-outer"],
                "arm.pivot-outer": points["arm.pivot-inner"],
            },
            wheel,
            travel,
        )
    angle = math.asin((travel + q) / math.hypot(p, q)) - math.atan2(q, p)
    moved = start + turned(arm, angle)
    s = turned(spin, angle)
    contact = moved + contact_offset(s, wheel["radius"])
    v_centre = np.cross(axis, moved - start)
    v_contact = np.cross(axis, contact - start)
    toe, camber = toe_camber_deg(s)
    return {
        "travel": travel,
        "turn_deg": degrees(math.degrees(angle)),
        "centre": metres(moved),
        "toe_deg": degrees(toe),
        "camber_deg": degrees(camber),
        "contact": metres(contact),
        "contact_dx_dz": metres(v_contact[0] / v_contact[2]),
        "contact_dy_dz": metres(v_contact[1] / v_contact[2]),
        "centre_dx_dz": metres(v_centre[0] / v_centre[2]),
        "centre_dy_dz": metres(v_centre[1] / v_centre[2]),
    }


def single_axis():
    wheel = {"centre": [0.0, 0.70, 0.30], "spin": [0.0, 1.0, 0.0], "radius": 0.30}
    pivots = {
        "trailing": ([0.45, 0.15, 0.36], [0.45, 0.60, 0.36]),
        "semi-trailing": ([0.35, 0.15, 0.30], [0.45, 0.60, 0.30]),
        "skew": ([0.34, 0.20, 0.27], [0.46, 0.62, 0.34]),
    }
    cases = []
    for name, (inner, outer) in pivots.items():
        points = {"arm.pivot-inner": inner, "arm.pivot-outer": outer}
        stations = [skew_axis(points, wheel, t) for t in TRAVELS]
        cases.append(
            {"name": name, "points": points, "wheel": wheel, "stations": stations}
        )
    about = "turn_deg is positive where the wheel rises"
    return {"tag": "calc", "about": about}, cases


# --- planar four-bar of the benchmark axle ------------------------------------------

AXLE = {
    "lower_inner": (0.2590, 0.302),
    "lower_outer": (0.5720, 0.229),
    "upper_inner": (0.1585, 0.600),
    "upper_outer": (0.4880, 0.531),
    "wheel_centre": (0.6150, 0.356),
}


def benchmark_axle():
    """Travel of the axle of Frik, Leister & Schwartz (1993), in its own plane.

    Complex numbers y + i z. Lower arm at angle t, the carrier turned by w since
    design; the upper joint is where two circles cross.
    """
    points = {name: complex(*p) for name, p in AXLE.items()}
    arm = points["lower_outer"] - points["lower_inner"]
    leaf = abs(points["upper_outer"] - points["upper_inner"])
    post = points["upper_outer"] - points["lower_outer"]
    wheel = points["wheel_centre"] - points["lower_outer"]
    foot = points["wheel_centre"].real - points["lower_outer"]

    def position(turn):
        """Lower ball, carrier rotation as a unit number, for an arm's turn."""
        ball = points["lower_inner"] + arm * np.exp(1j * turn)
        gap = points["upper_inner"] - ball
        cosine = (abs(gap) ** 2 + abs(post) ** 2 - leaf**2) / (2 * abs(gap) * abs(post))
        # The upper joint lies clockwise of the line from ball to upper pivot.
        direction = gap / abs(gap) * np.exp(-1j * math.acos(cosine))
        return ball, direction / (post / abs(post))

    def rates(ball, carrier):
        """Rates (arm, leaf, carrier) [rad per m of wheel-centre rise]."""
        upper = ball + post * carrier - points["upper_inner"]
        columns = [ball - points["lower_inner"], -upper, post * carrier]
        loop = np.array([1j * c for c in columns])
        rise = [(1j * columns[0]).imag, 0.0, (1j * wheel * carrier).imag]
        return np.linalg.solve(np.array([loop.real, loop.imag, rise]), [0, 0, 1])

    cases = []
    for step in range(-8, 9, 2):
        travel, turn = step / 100, 0.0
        for _ in range(30):  # Newton on the arm's turn, by the exact rate
            ball, carrier = position(turn)
            miss = (ball + wheel * carrier - points["wheel_centre"]).imag - travel
            turn -= miss * rates(ball, carrier)[0]
        ball, carrier = position(turn)
        rate = rates(ball, carrier)
        centre = ball + wheel * carrier
        assert abs(centre.imag - points["wheel_centre"].imag - travel) < 1e-15
        contact = ball + foot * carrier
        v = (
            1j * (ball - points["lower_inner"]) * rate[0]
            + 1j * foot * carrier * rate[2]
        )
        arm_angle = np.angle(ball - points["lower_inner"])
        cases.append(
            {
                "travel": travel,
                "arm_deg": degrees(math.degrees(arm_angle)),
                "centre_y": metres(centre.real),
                "camber_deg": degrees(-math.degrees(np.angle(carrier))),
                "camber_gain_deg_per_m": degrees(-math.degrees(rate[2])),
                "contact_y": metres(contact.real),
                "contact_z": metres(contact.imag),
                "contact_dy_dz": metres(v.real / v.imag),
                "roll_centre_above_contact": metres(contact.real * v.real / v.imag),
            }
        )
    return {"tag": "points of Frik, Leister & Schwartz (1993) read in a reproduction; results calc", "points_yz": AXLE}, cases


# --- printed tables, for tests that want figures not made by these scripts ---------

# Copied from the project's collection of check values. There toe and camber are
# rotations about +z and +x; here they are the project's toe and camber, that is
# the signs are changed, and camber stays the projected angle -atan2(s_z, s_y).
# The contact columns follow the knuckle-fixed point that touches the ground in
# design position.

WISHBONE_POINTS = {
    "lower-arm.body-aft": [-0.251, 0.320, -0.080],
    "lower-arm.body-fore": [0.148, 0.320, -0.094],
    "lower-arm.ball": [0.013, 0.737, -0.145],
    "upper-arm.body-aft": [-0.105, 0.435, 0.196],
    "upper-arm.body-fore": [0.122, 0.435, 0.230],
    "upper-arm.ball": [-0.025, 0.680, 0.162],
    "tie-rod.body": [-0.150, 0.380, -0.038],
    "tie-rod.upright": [-0.137, 0.690, -0.088],
}
WISHBONE_WHEEL = {
    "centre": [0.0, 0.768, 0.0],
    "spin": [0.0, 1.0, -0.013962634015955],  # 0.8 deg in rad, then normalised
    "radius": 0.285,
}
WISHBONE_COLUMNS = [
    "travel", "centre_x", "centre_y", "contact_x", "contact_y", "contact_z",
    "toe_deg", "camber_projected_deg",
]  # fmt: skip
WISHBONE_ROWS = [
    [-0.060, 0.003039, 0.751692, -0.007291, 0.754424, -0.344800, -0.19233, -0.55660],
    [-0.040, 0.002016, 0.758722, -0.004837, 0.758218, -0.324917, -0.11628, 0.09848],
    [-0.020, 0.001003, 0.764102, -0.002409, 0.761438, -0.304967, -0.05376, 0.53496],
    [0.0, 0.0, 0.768000, 0.0, 0.764021, -0.284972, 0.0, 0.79995],
    [0.020, -0.000993, 0.770526, 0.002394, 0.765936, -0.264943, 0.04808, 0.92217],
    [0.040, -0.001976, 0.771750, 0.004775, 0.767167, -0.244883, 0.09242, 0.91938],
    [0.060, -0.002950, 0.771716, 0.007145, 0.767705, -0.224793, 0.13421, 0.80205],
]
WISHBONE_RACK_COLUMNS = [
    "rack", "centre_x", "centre_y", "centre_z", "toe_deg", "camber_projected_deg",
]  # fmt: skip
WISHBONE_RACK_ROWS = [  # lower arm held at its design angle
    [-0.0745, -0.038163, 0.757313, -0.006708, -39.93620, 10.24724],
    [-0.0500, -0.023022, 0.765227, -0.003364, -22.97574, 4.81712],
    [-0.0250, -0.010907, 0.767888, -0.001371, -10.74085, 2.35629],
    [0.0250, 0.010182, 0.766200, 0.000926, 10.17924, -0.29146],
    [0.0500, 0.019777, 0.762671, 0.001458, 20.24999, -1.06205],
    [0.0745, 0.028590, 0.757535, 0.001596, 30.30607, -1.53211],
]
WISHBONE_DESIGN = {
    "contact_dx_dz": 0.119969,
    "contact_dy_dz": 0.112579,
    "centre_dx_dz": -0.049894,
    "centre_dy_dz": 0.159879,
    "toe_gain_deg_per_m": 2.52570,
    "camber_gain_deg_per_m": 9.49507,
}

FIVE_LINK_POINTS = {
    "link.a.body": [0.50, 0.50, 0.33], "link.a.upright": [0.06, 0.66, 0.22],
    "link.b.body": [0.08, 0.30, 0.21], "link.b.upright": [0.09, 0.66, 0.19],
    "link.c.body": [-0.12, 0.28, 0.22], "link.c.upright": [-0.10, 0.67, 0.20],
    "link.d.body": [0.10, 0.42, 0.46], "link.d.upright": [0.05, 0.62, 0.45],
    "link.e.body": [-0.08, 0.40, 0.47], "link.e.upright": [-0.06, 0.62, 0.455],
}  # fmt: skip
FIVE_LINK_WHEEL = {"centre": [0.0, 0.72, 0.30], "spin": [0.0, 1.0, 0.0], "radius": 0.30}
FIVE_LINK_COLUMNS = [
    "travel", "centre_x", "centre_y", "contact_x", "contact_y", "contact_z",
    "toe_deg", "camber_projected_deg", "contact_dx_dz", "centre_dx_dz",
    "contact_dy_dz",
]  # fmt: skip
FIVE_LINK_ROWS = [
    [-0.060, 0.006271, 0.708719, 0.033504, 0.714282, -0.058710,
     -1.082038, -0.968306, -0.722258, -0.072783, 0.119594],
    [-0.030, 0.003409, 0.716349, 0.015168, 0.717562, -0.029767,
     -0.278338, -0.220948, -0.562476, -0.109579, 0.100789],
    [0.0, 0.0, 0.72, 0.0, 0.72, 0.0,
     0.0, 0.0, -0.462501, -0.114552, 0.061790],
    [0.030, -0.003333, 0.720251, -0.012744, 0.721223, 0.030149,
     0.003615, -0.185564, -0.385576, -0.106098, 0.019398],
    [0.060, -0.006292, 0.717350, -0.023435, 0.721187, 0.060515,
     -0.142740, -0.742168, -0.319980, -0.090154, -0.021158],
]  # fmt: skip


def rows(columns, values):
    return [dict(zip(columns, row)) for row in values]


def printed_wishbone():
    cases = rows(WISHBONE_COLUMNS, WISHBONE_ROWS)
    about = "points read in copies of a textbook's listing; results calc, not printed"
    head = {"tag": "points of Rill & Arrieta Castro (2020) read in copies; results calc", "about": about}
    head |= {"points": WISHBONE_POINTS, "wheel": WISHBONE_WHEEL}
    head["design"] = WISHBONE_DESIGN
    head["rack_at_design_arm"] = rows(WISHBONE_RACK_COLUMNS, WISHBONE_RACK_ROWS)
    return head, cases


def printed_five_link():
    head = {"tag": "calc", "points": FIVE_LINK_POINTS, "wheel": FIVE_LINK_WHEEL}
    return head, rows(FIVE_LINK_COLUMNS, FIVE_LINK_ROWS)


# --- file ---------------------------------------------------------------------------

SECTIONS = {
    "slider-crank": slider_crank,
    "four-bar": four_bars,
    "squeezer": squeezer,
    "parallel-wishbones": parallel_wishbones,
    "single-axis": single_axis,
    "benchmark-axle": benchmark_axle,
    "wishbone-table": printed_wishbone,
    "five-link-table": printed_five_link,
}


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--out", type=Path, default=DATA)
    options = parser.parse_args()
    options.out.mkdir(parents=True, exist_ok=True)
    sections = []
    for name, make in SECTIONS.items():
        head, cases = make()
        lines = [f"{json.dumps(k)}: {json.dumps(v)}," for k, v in head.items()]
        listed = ",\n".join(json.dumps(c) for c in cases)
        body = "\n".join(lines)
        sections.append(f'{json.dumps(name)}: {{\n{body}\n"cases": [\n{listed}\n]\n}}')
    head = (
        '"kind": "closed-forms",\n"source": "closed forms, script closed_forms.py",\n'
    )
    text = "{\n" + head + ",\n".join(sections) + "\n}\n"
    (options.out / "closed-forms.json").write_text(text, encoding="utf-8")
    print(f"closed forms: {len(SECTIONS)} sections")


if __name__ == "__main__":
    main()
