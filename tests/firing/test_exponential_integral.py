"""Exponential integrals against scipy.special (Cephes), an implementation that shares no code."""

from math import exp

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.special import expi, expn

from guardcone.firing.heatwork import scaled_e2


@pytest.mark.parametrize("x", [1e-6, 1e-3, 0.1, 1.0, 1.49, 1.5, 2.0, 5.0, 19.99, 20.0, 50.0, 600.0])
def test_agrees_with_scipy(x: float) -> None:
    """E2 agrees with scipy to 1e-12 relative from tiny to large arguments."""
    assert scaled_e2(x) == pytest.approx(expn(2, x) * exp(x), rel=1e-12)


@given(st.floats(0.01, 600.0))
def test_e2_is_what_e1_leaves_over(x: float) -> None:
    """E2(x) = exp(-x) - x E1(x), E1 being scipy's -Ei(-x), as far as the difference allows."""
    from_expi = 1.0 + x * expi(-x) * exp(x)

    assert scaled_e2(x) == pytest.approx(from_expi, abs=1e-13 * (1.0 + x))


@given(st.floats(1.0, 1e6))
def test_lies_between_its_known_bounds(x: float) -> None:
    """1/(x+2) < exp(x) E2(x) < 1/(x+1) for x > 0 (DLMF 8.19.21), far past scipy's range."""
    assert 1.0 / (x + 2.0) <= scaled_e2(x) <= 1.0 / (x + 1.0)


@pytest.mark.parametrize("x", [0.0, -1.0])
def test_refuses_what_it_is_not_made_for(x: float) -> None:
    """Zero and negative arguments are refused by name, not answered."""
    with pytest.raises(ValueError, match="positive"):
        scaled_e2(x)
