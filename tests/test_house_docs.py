"""The pages agree with the tree, and a page that does not is found."""

import pytest

import check_docs

PAGE = "docs/page.md"


def test_the_pages_agree_with_the_tree():
    found = check_docs.check_pages()
    assert not found, "\n" + "\n".join(map(str, found))


@pytest.fixture
def tree(tmp_path):
    (tmp_path / "Makefile").write_text("test: setup\n\ttrue\nsetup:\n", encoding="utf-8")
    (tmp_path / "docs").mkdir()
    (tmp_path / "docs" / "theory.md").write_text("# Towed lines\n\n## Drag & lift (steady)\n", encoding="utf-8")
    (tmp_path / "docs" / "spread.svg").touch()
    return tmp_path


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("[theory](theories.md)", "leads nowhere: theories.md"),
        ("![a spread](missing.svg)", "leads nowhere: missing.svg"),
        ("[up](../src/x.py)", "leads nowhere"),
        ("[drag](theory.md#drag)", "has no heading for #drag"),
        ("[here](#nothing)", "has no heading for #nothing"),
        ("look in `src/spreadwright/attic/`", "there is no src/spreadwright/attic/"),
        ("run `make tea`", "no task tea"),
        ("```\nmake tea\n```", "no task tea"),
    ],
)
def test_what_is_not_so_is_found(tree, text, told):
    found = list(check_docs.check_page(PAGE, "# Page\n\n" + text + "\n", tree))
    assert len(found) == 1
    assert told in found[0].rule
    assert found[0].line == (4 if "```" in text else 3)


@pytest.mark.parametrize(
    "text",
    [
        "[theory](theory.md)",
        "![a spread](spread.svg)",
        "[drag](theory.md#drag--lift-steady)",
        "[here](#page)",
        "[standard](https://example.org/standard#4)",
        "look in `docs/theory.md` and run `make test`",
        "```\n[not a link](nowhere.md)\nmake setup\n```",
        "we\nmake tea of it",
    ],
)
def test_what_is_so_passes(tree, text):
    assert list(check_docs.check_page(PAGE, "# Page\n\n" + text + "\n", tree)) == []
