"""Names in a drawing never lie on one another, and the stems of labels cross neither names nor each other."""

from hypothesis import given
from hypothesis import strategies as st

from spreadwright.sheets.labels import Box, Placer, around, flags

PANEL = Box(0.0, 0.0, 400.0, 150.0)
coordinates = st.floats(0.0, 400.0).map(lambda value: round(value, 2))


def test_boxes_that_share_an_edge_do_not_meet():
    here = Box(0, 0, 10, 10)
    for beside in (Box(10, 0, 20, 10), Box(0, 10, 10, 20)):
        assert not here.meets(beside)
        assert not beside.meets(here)
    assert Box(0, 0, 10, 10).meets(Box(9.9, 9.9, 20, 20))


def test_a_line_through_a_box_is_seen_whatever_its_direction():
    box = Box(10, 10, 20, 20)
    assert box.cut_by((0, 15), (30, 15))
    assert box.cut_by((30, 15), (0, 15))
    assert box.cut_by((15, 0), (15, 30))
    assert box.cut_by((12, 12), (18, 18))
    assert not box.cut_by((0, 5), (30, 5))
    assert not box.cut_by((0, 15), (9, 15))
    assert not box.cut_by((0, 0), (5, 30))


@given(st.lists(st.tuples(coordinates, st.floats(0.0, 150.0), st.floats(10.0, 120.0)), min_size=1, max_size=12))
def test_what_the_placer_takes_is_inside_and_apart(wanted):
    placer = Placer(PANEL)
    taken = [placer.take(around((x, y), width, 13.0, 8.0, PANEL)) for x, y, width in wanted]
    boxes = [box for box in taken if box is not None]
    assert all(box.within(PANEL) for box in boxes)
    assert not any(a.meets(b) for i, a in enumerate(boxes) for b in boxes[:i])


def test_a_name_goes_where_no_line_runs():
    free = Placer(PANEL)
    crossed = Placer(PANEL, lines=[[(0.0, 75.0), (200.0, 75.0)]])
    candidates = around((200.0, 75.0), 60.0, 13.0, 8.0, PANEL)
    assert free.take(candidates) == candidates[0]
    chosen = crossed.take(candidates)
    assert chosen is not None
    assert crossed.crossings(chosen) == 0


@given(
    st.lists(st.tuples(st.floats(10.0, 380.0), st.floats(20.0, 130.0)), min_size=1, max_size=10).map(
        lambda rows: [(round(place, 1), round(width, 1)) for place, width in rows]
    )
)
def test_flags_stay_apart_and_their_stems_pass_no_label(rows):
    places, widths = [row[0] for row in rows], [row[1] for row in rows]
    found = flags(places, widths, 10.0, 380.0)
    slack = 1e-6
    for i, flag in enumerate(found):
        assert flag.stem >= 10.0 - slack
        assert flag.stem + widths[i] <= 380.0 + slack
        for j, other in enumerate(found):
            if i == j:
                continue
            inside = flag.stem + slack < other.stem < flag.stem + widths[i] - slack
            if other.row >= flag.row:  # its stem or its text comes down through this row
                assert not inside
            if places[i] < places[j]:
                assert flag.stem < other.stem + slack


def test_flags_use_one_row_where_there_is_room():
    assert {flag.row for flag in flags([50.0, 150.0, 250.0], [80.0, 80.0, 80.0], 0.0, 400.0)} == {0}
    assert {flag.row for flag in flags([50.0, 51.0, 52.0, 250.0], [90.0] * 4, 0.0, 300.0)} == {0, 1}
