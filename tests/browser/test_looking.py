"""The looks that the browser tests rely on find what they are for: each is shown a page that is at fault."""

import pytest
from tests.browser.looking import Watch, serious_faults, small_targets, sticks_out, watched


@pytest.fixture
def watch(context):
    """Without the check at the end: here a page is at fault on purpose."""
    return watched(context)


def test_a_page_without_faults_has_none(page, size, watch):
    page.set_content(
        '<html lang="en"><title>Plain</title><main><h1>Plain</h1>'
        '<button style="min-height:44px">Go</button></main></html>'
    )
    assert serious_faults(page) == []
    assert sticks_out(page) == []
    assert small_targets(page) == []
    assert watch == Watch()


def test_each_look_finds_its_fault(page, watch):
    page.set_content(
        '<html lang="en"><title>Bad</title><main><h1>Bad</h1><p style="color:#bbb;background:#fff">pale</p>'
        '<div style="width:3000px">wide</div><button style="height:9px">s</button></main></html>'
    )
    assert any("color-contrast" in fault for fault in serious_faults(page))
    assert "the page scrolls sideways" in sticks_out(page)
    assert len(small_targets(page)) == 1


def test_a_script_that_fails_and_a_call_to_the_outside_are_seen(page, watch):
    page.context.set_offline(True)
    page.set_content('<img src="https://example.org/x.png"><script>throw new Error("a fault")</script>')
    page.wait_for_timeout(100)
    assert any("a fault" in error for error in watch.errors)
    assert watch.outside == ["https://example.org/x.png"]


def test_the_small_plan_is_whole_and_quick(small_plan, small_plan_file):
    assert [rod.set_out for rod in small_plan.rods] == [1, 2, 3]
    assert len(small_plan.pairs) == 3
    assert set(small_plan.worst_pair) <= {rod.rod for rod in small_plan.rods}
    assert type(small_plan).read(small_plan_file) == small_plan
