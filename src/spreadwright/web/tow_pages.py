"""One or more towed lines with nothing else around, a check of the physics: what `spreadwright tow` does."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Depends, Form, HTTPException, Request, UploadFile
from starlette.responses import RedirectResponse, Response

from spreadwright.faults import Fault, Faults
from spreadwright.towfile import TowResult, tow_file_from_text
from spreadwright.towfile.compute import compute
from spreadwright.towfile.report import report
from spreadwright.web.jobs import Tell
from spreadwright.web.page_making import page
from spreadwright.web.shared import Asker, ThisServer, by_form
from spreadwright.web.uploads import sent_text

router = APIRouter(include_in_schema=False)
FORM = [Depends(by_form)]
Text = Annotated[str, Form()]
LARGEST_TEXT = 1024 * 1024  # letters, as the command takes


@router.get("/tow")
def tow(request: Request, parts: ThisServer, asker: Asker) -> Response:
    """The last result, and the place for a tow file."""
    job = parts.jobs.get("tow house")
    found = job.result if job is not None else None
    told = report(found[1], asker.units) if isinstance(found, tuple) else ""
    return page(request, "tow.html", here="/tow", job=job, told=told, text=found[0] if isinstance(found, tuple) else "")


@router.post("/tow", dependencies=FORM)
def begin(parts: ThisServer, text: Text = "", file: UploadFile | None = None) -> RedirectResponse:
    """Read a tow file, with all its faults at once, and compute its lines in the background."""
    written = sent_text(file, "the tow file", text)
    if len(written) > LARGEST_TEXT:
        given, rule = f"more than {LARGEST_TEXT // 2**20} MiB", "a tow file is a few pages of text"
        raise Faults([Fault("the tow file", given, rule, "check that this is the tow file")])
    asked = tow_file_from_text(written)

    def work(tell: Tell) -> tuple[str, TowResult]:
        return written, compute(asked, tell)

    parts.jobs.start("tow house", work)
    return RedirectResponse("/tow", 303)


@router.get("/tow.json")
def as_json(parts: ThisServer) -> Response:
    """The last result in full, in SI units."""
    job = parts.jobs.get("tow house")
    found = job.result if job is not None else None
    if not isinstance(found, tuple):
        raise HTTPException(404, "Nothing was computed yet: send a tow file.")
    return Response(found[1].to_json(), media_type="application/json",
                    headers={"content-disposition": 'attachment; filename="tow.json"'})  # fmt: skip
