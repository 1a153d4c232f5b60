"""Who gets in, as a browser sees it: the session's cookie on this machine."""

from __future__ import annotations

from playwright.sync_api import Page, expect


def test_on_this_machine_the_browser_keeps_a_secure_cookie_and_the_session_with_it(page: Page, planned_trip: str):
    page.goto(planned_trip)
    (cookie,) = page.context.cookies()
    assert cookie.get("secure")
    assert cookie.get("httpOnly")
    assert cookie.get("sameSite") == "Strict"
    page.click(".units button[value=metric]")  # the form carries the session's token: another session is refused
    expect(page.locator(".units button[value=metric]")).to_have_attribute("aria-pressed", "true")
    page.reload()
    expect(page.locator(".units button[value=metric]")).to_have_attribute("aria-pressed", "true")
    assert page.context.cookies() == [cookie]
