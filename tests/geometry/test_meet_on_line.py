"""Where a curve meets a line: to rounding error, not to the six digits of the root finder below it."""

import math

from hypothesis import given
from hypothesis import strategies as st

from cutonce.geometry.curve import Cubic
from cutonce.geometry.meet import on_line

coordinates = st.floats(-400, 400)
points = st.builds(complex, coordinates, coordinates)


def test_root_is_exact() -> None:
    # x(t) = 3 t - 3 t^2 + t^3 = 1 - (1 - t)^3 on this curve; it is 1/2 at t = 1 - 2^(-1/3)
    curve = Cubic(0j, 1 + 1j, 1 + 2j, 1 + 3j)
    (t,) = on_line(curve, 0.5 + 0j, 1j)
    assert abs(t - (1 - 2 ** (-1 / 3))) < 1e-14


@given(points, points, points, points, points, st.floats(0, math.tau))
def test_meetings_lie_on_the_line(
    a: complex, b: complex, c: complex, d: complex, p: complex, turn: float
) -> None:
    direction = complex(math.cos(turn), math.sin(turn))
    curve = Cubic(a, b, c, d)
    for t in on_line(curve, p, direction):
        off = ((curve.at(t) - p) * direction.conjugate()).imag
        # beside a touching place (double root) only the square root of rounding error can be had
        crossing = abs((curve.derivative(t) * direction.conjugate()).imag)
        assert abs(off) < (5e-6 if crossing > 1 else 1e-3)  # roots within 1e-9 outside are held at the end
