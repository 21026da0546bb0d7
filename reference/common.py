"""What the reference scripts share: rotations, solver, wheel measures, files.

Axes ISO 8855 (x forward, y left, z up), SI, left wheel, body fixed. A corner is
described by coordinates q; each kind (see corners.py) says which. Everything
that depends on q is written for arrays with leading axes and for complex q,
so that one complex-step call gives a Jacobian exact to rounding.
"""

import json
import math

import numpy as np
from scipy.optimize import least_squares

# Largest closure error left after polishing [m or 1]. Measured: below 1e-15.
CLOSURE = 1e-14
# Longest step of wheel travel or rack between stations while tracking [m].
TRACK_STEP = 0.01
# Largest miss of a tangent prediction over one step [m, by the corner's scale];
# a jump to another assembly branch is an order of magnitude larger.
PREDICTION_MISS = 0.01
# Condition number of the scaled square Jacobian that counts as reasonable.
CONDITION = 30.0
# Agreement wanted between exact rates and Richardson differences (relative
# above 1).
RATE_AGREEMENT = 1e-6
# Base step of those differences [m]; smaller costs digits, larger truncates.
RATE_STEP = 3e-4


class Unbuildable(Exception):
    """The geometry does not reach a station in a sound way; draw another."""


# --- rotations -----------------------------------------------------------------


def dot(a, b):
    """Scalar product over the last axis, without conjugation."""
    return (a * b).sum(-1)


def norm(a):
    """Length over the last axis, analytic in complex arguments."""
    return np.sqrt(dot(a, a))


def unit(a):
    a = np.asarray(a)
    return a / norm(a)[..., None]


def rotation_from_quaternion(q):
    """Rotation matrix of q = (w, x, y, z), of unit length only at the solution."""
    w, x, y, z = (q[..., i] for i in range(4))
    ww, xx, yy, zz = w * w, x * x, y * y, z * z
    xy, xz, yz, wx, wy, wz = x * y, x * z, y * z, w * x, w * y, w * z
    matrix = np.empty(q.shape[:-1] + (3, 3), q.dtype)
    matrix[..., 0, 0] = ww + xx - yy - zz
    matrix[..., 1, 1] = ww - xx + yy - zz
    matrix[..., 2, 2] = ww - xx - yy + zz
    matrix[..., 0, 1], matrix[..., 1, 0] = 2 * (xy - wz), 2 * (xy + wz)
    matrix[..., 0, 2], matrix[..., 2, 0] = 2 * (xz + wy), 2 * (xz - wy)
    matrix[..., 1, 2], matrix[..., 2, 1] = 2 * (yz - wx), 2 * (yz + wx)
    return matrix


def rotation_from_vector(v):
    """Rotation matrix of the rotation vector v [rad], by its half-angle form."""
    # The tiny number makes sin(a / 2) / a right at v = 0, also for complex steps,
    # and is lost to rounding everywhere else.
    angle = np.sqrt(dot(v, v) + 1e-200)[..., None]
    q = np.concatenate([np.cos(angle / 2), np.sin(angle / 2) / angle * v], axis=-1)
    return rotation_from_quaternion(q)


class Hinge:
    """Points turning about the line from `start` to `end` (Rodrigues)."""

    def __init__(self, start, end):
        self.start = np.asarray(start, float)
        self.axis = unit(np.asarray(end, float) - self.start)

    def split(self, point):
        """Parts of point - start: along the axis, radial, and axis x radial."""
        arm = np.asarray(point, float) - self.start
        along = dot(arm, self.axis) * self.axis
        return along, arm - along, np.cross(self.axis, arm)

    def carry(self, point):
        """Function of the angle [rad] that gives `point` after the turn."""
        along, radial, tangent = self.split(point)
        base = self.start + along

        def turned(angle):
            c, s = np.cos(angle)[..., None], np.sin(angle)[..., None]
            return base + c * radial + s * tangent

        return turned

    def rotation(self, angle):
        """Rotation matrix and its derivative by the angle."""
        x, y, z = self.axis
        cross = np.array([[0, -z, y], [z, 0, -x], [-y, x, 0]])
        square = cross @ cross
        matrix = np.eye(3) + math.sin(angle) * cross + (1 - math.cos(angle)) * square
        return matrix, math.cos(angle) * cross + math.sin(angle) * square


# --- wheel measures ------------------------------------------------------------


def spin_axis(toe_deg, camber_deg):
    """Unit spin axis of the left wheel; toe-in and top-outward are positive."""
    t, g = math.radians(toe_deg), math.radians(camber_deg)
    return np.array(
        [math.cos(g) * math.sin(t), math.cos(g) * math.cos(t), -math.sin(g)]
    )


def toe_camber_deg(s):
    return math.degrees(math.atan2(s[0], s[1])), -math.degrees(math.asin(s[2]))


def contact_offset(s, radius):
    """From the wheel centre to the lowest point of the disc [m]."""
    return -radius * unit(np.array([0.0, 0.0, 1.0]) - s[2] * s)


def measure(wheel, travel, rack, pose, rate, nearby, extra=None):
    """One station's results.

    pose = (C, A), centre [m] and rotation of the knuckle since design; rate is
    its derivative per metre of wheel-centre travel; nearby(h) is the pose at
    travel + h, used only to cross-check the rates. `extra` is added as it is.
    """
    centre, rotation = pose
    d_centre, d_rotation = rate
    spin, radius = wheel["spin"], wheel["radius"]
    s, ds = rotation @ spin, d_rotation @ spin
    toe, camber = toe_camber_deg(s)
    offset = contact_offset(s, radius)
    # The knuckle-fixed point that is at the contact now.
    on_knuckle = rotation.T @ offset
    d_contact = d_centre + d_rotation @ on_knuckle
    d_toe = math.degrees((s[1] * ds[0] - s[0] * ds[1]) / (s[0] ** 2 + s[1] ** 2))
    d_camber = math.degrees(-ds[2] / math.sqrt(1 - s[2] ** 2))

    def observed(h):
        c, a = nearby(h)
        return np.concatenate([c, c + a @ on_knuckle, toe_camber_deg(a @ spin)])

    exact = np.concatenate([d_centre, d_contact, [d_toe, d_camber]])
    assert_rates(exact, observed)
    return {
        "travel": travel,
        "rack": rack,
        "centre": metres(centre),
        "toe_deg": degrees(toe),
        "camber_deg": degrees(camber),
        "contact": metres(centre + offset),
        "contact_dx_dz": metres(d_contact[0] / d_contact[2]),
        "contact_dy_dz": metres(d_contact[1] / d_contact[2]),
        "centre_dx_dz": metres(d_centre[0] / d_centre[2]),
        "centre_dy_dz": metres(d_centre[1] / d_centre[2]),
        "toe_gain_deg_per_m": degrees(d_toe),
        "camber_gain_deg_per_m": degrees(d_camber),
        **(extra or {}),
    }


def assert_rates(exact, observed):
    """Exact rates against Richardson's extrapolation of central differences."""
    h = RATE_STEP
    wide = (observed(h) - observed(-h)) / (2 * h)
    narrow = (observed(h / 2) - observed(-h / 2)) / h
    difference = (4 * narrow - wide) / 3
    error = np.abs(exact - difference) / np.maximum(1, np.abs(exact))
    if error.max() > RATE_AGREEMENT:
        raise AssertionError(f"rates differ from differences by {error.max():.1e}")


# --- position and velocity -----------------------------------------------------


def jacobian(function, q):
    """Complex-step Jacobian: no subtraction, so exact to rounding."""
    h = 1e-30
    return (function(q + 1j * h * np.eye(q.size)).imag / h).T


def closure(corner, q, travel, rack):
    """The corner's closure errors and the wheel centre's miss of `travel`."""
    pose = corner.pose(q)
    height = pose[0][..., 2:3] - travel
    return np.concatenate([corner.residual(q, pose, rack), height], axis=-1)


def newton_step(function, q):
    """Jacobian and step of Newton's method."""
    matrix = jacobian(function, q)
    try:
        return matrix, -np.linalg.solve(matrix, function(q))
    except np.linalg.LinAlgError as error:
        raise Unbuildable("singular") from error


def polish(function, q):
    """A few Gauss-Newton steps to rounding level; also returns the Jacobian."""
    for _ in range(6):
        matrix, step = newton_step(function, q)
        if not np.abs(step).max() < 1:
            raise Unbuildable("diverges")
        q = q + step
        if np.abs(step).max() < 2e-15:
            break
    if not np.abs(function(q)).max() < CLOSURE:
        raise Unbuildable("does not close")
    return q, matrix


def free_motion(corner, q, rack):
    """Null vector of the constraints' Jacobian, scaled to unit wheel travel."""
    constraints = jacobian(lambda q: corner.residual(q, corner.pose(q), rack), q)
    null = np.linalg.svd(constraints)[2][-1]
    return null / along(lambda q: corner.pose(q)[0], q, null)[2]


def along(function, q, direction):
    """Exact derivative of a function of q along a direction."""
    h = 1e-30
    return function(q + 1j * h * direction).imag / h


def track(corner, q, start, end):
    """Follow the corner from (travel, rack) `start` to `end` by small steps."""
    start, end = np.array(start), np.array(end)
    count = max(1, math.ceil(np.abs(end - start).max() / TRACK_STEP - 1e-9))
    tight = {"xtol": 1e-15, "ftol": 1e-15, "gtol": 1e-15}
    for i in range(1, count + 1):
        travel, rack = start + (end - start) * i / count

        def miss(q, travel=travel, rack=rack):
            return closure(corner, q, travel, rack)

        # From a closed position, one Newton step is the tangent prediction.
        guess = q + newton_step(miss, q)[1]
        found = least_squares(
            miss, guess, jac=lambda q, f=miss: jacobian(f, q), method="lm", **tight
        )
        q, matrix = polish(miss, found.x)
        if np.abs((q - guess) * corner.scale).max() > PREDICTION_MISS:
            raise Unbuildable("jumps")
        if np.linalg.cond(matrix / corner.scale) > CONDITION:
            raise Unbuildable("near a dead point")
    return q


def corner_stations(corner, wheel, stations):
    """Results at every (travel, rack), each reached by tracking from design."""
    reached = {(0.0, 0.0): track(corner, corner.start, (0.0, 0.0), (0.0, 0.0))}
    order = sorted(stations, key=lambda s: (abs(s[1]), abs(s[0])))
    for travel, rack in order:
        if (travel, rack) in reached:
            continue
        # Travel from the nearest station on the same side, then the rack.
        same = [s for s in reached if s[1] == 0.0 and s[0] * travel >= 0]
        same = [s for s in same if abs(s[0]) <= abs(travel)]
        near = max(same, key=lambda s: abs(s[0]))
        q = track(corner, reached[near], near, (travel, 0.0))
        reached[travel, rack] = track(corner, q, (travel, 0.0), (travel, rack))

    return [
        corner_result(corner, wheel, reached[travel, rack], travel, rack)
        for travel, rack in stations
    ]


def corner_result(corner, wheel, q, travel, rack):
    """Results at the closed position q."""
    motion = free_motion(corner, q, rack)
    origin = np.asarray(wheel["centre"])

    def absolute(q):
        centre, rotation = corner.pose(q)
        return origin + centre, rotation

    def at(h):
        return polish(lambda q: closure(corner, q, travel + h, rack), q + h * motion)[0]

    rate = (
        along(lambda q: corner.pose(q)[0], q, motion),
        along(lambda q: corner.pose(q)[1], q, motion),
    )
    extra = {}
    if hasattr(corner, "spring_length"):
        ratio = along(corner.spring_length, q, motion)
        assert_rates(np.array([ratio]), lambda h: corner.spring_length(at(h)))
        extra["spring_length_m"] = metres(corner.spring_length(q))
        extra["spring_motion_ratio"] = metres(ratio)
    return measure(
        wheel, travel, rack, absolute(q), rate, lambda h: absolute(at(h)), extra
    )


# --- files ---------------------------------------------------------------------


def rounded(value, digits):
    if np.ndim(value):
        return [rounded(v, digits) for v in value]
    return round(float(value), digits) + 0.0  # no negative zero


def metres(value):
    """Lengths [m] and pure ratios as they are written: 12 decimals."""
    return rounded(value, 12)


def degrees(value):
    """Angles [deg] and gains [deg/m] as they are written: 9 decimals."""
    return rounded(value, 9)


def write(path, head, cases):
    """A JSON object of `head` and "cases", one case a line."""
    lines = [f"{json.dumps(k)}: {json.dumps(v)}," for k, v in head.items()]
    rows = ",\n".join(json.dumps(c) for c in cases)
    text = "{\n" + "\n".join(lines) + '\n"cases": [\n' + rows + "\n]\n}\n"
    path.write_text(text, encoding="utf-8")


def read(path):
    return json.loads(path.read_text(encoding="utf-8"))
