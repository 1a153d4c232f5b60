"""Ranges: order kept, worst and best cases, what is refused."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spreadwright.tackle.span import Span

positive = st.floats(min_value=1e-3, max_value=1e6)


@st.composite
def spans(draw):
    return Span(*sorted((draw(positive), draw(positive), draw(positive))))


def inside(span, share):
    return span.low + share * (span.high - span.low)


@given(spans(), spans(), st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_product_and_quotient_enclose_every_pair_of_values(one, other, here, there):
    x, y = inside(one, here), inside(other, there)
    product, quotient = one * other, one.over(other)
    assert product.low <= x * y * (1 + 1e-12)
    assert x * y <= product.high * (1 + 1e-12)
    assert quotient.low <= x / y * (1 + 1e-12)
    assert x / y <= quotient.high * (1 + 1e-12)


@given(spans(), spans())
def test_the_weaker_is_never_above_either(one, other):
    weaker = one.weaker(other)
    assert weaker.high <= min(one.high, other.high)
    assert weaker.low <= min(one.low, other.low)
    assert weaker == other.weaker(one)


@pytest.mark.parametrize(
    "values", [(2.0, 1.0, 3.0), (1.0, 3.0, 2.0), (-1.0, 0.0, 1.0), (0.0, math.nan, 1.0), (0.0, 1.0, math.inf)]
)
def test_what_is_no_range_is_refused(values):
    with pytest.raises(ValueError, match="a range needs"):
        Span(*values)


def test_about_and_exactly():
    assert Span.about(10.0, 0.1) == Span(9.0, 10.0, 11.0)
    assert Span.exactly(3.0) * 2.0 == Span.exactly(6.0)
