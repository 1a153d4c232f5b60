"""The house rules hold over the whole tree, and each rule is seen to find a text that breaks it."""

import subprocess

import pytest

import house

CORE = "src/spreadwright/spread/solver.py"


def test_the_whole_tree_keeps_the_house_rules():
    findings = house.check_tree()
    assert not findings, "\n" + "\n".join(map(str, findings))


def test_the_tree_that_is_read_is_the_real_one():
    files = house.tracked()
    assert {"pyproject.toml", "uv.lock", "src/spreadwright/__init__.py", "tools/house.py"} <= set(files)
    assert not any(path.startswith((".venv/", ".tools/")) for path in files)


def test_a_broken_file_in_a_tree_is_found_before_and_after_it_is_added(tmp_path):
    subprocess.run(["git", "init", "--quiet"], cwd=tmp_path, check=True)
    (tmp_path / "notes.md").write_text("see /" + "work/main for it\n", encoding="utf-8")
    (tmp_path / "picture.bin").write_bytes(b"\0/" + b"work/main")
    assert [str(found).split(": ")[0] for found in house.check_tree(tmp_path)] == ["notes.md:1"]
    subprocess.run(["git", "add", "notes.md"], cwd=tmp_path, check=True)
    assert len(house.check_tree(tmp_path)) == 1


# Texts are put together from pieces, so that this file does not break the rules it tests.
BAD_WORDS = {
    "a path of a machine": "cd /" + "work/main",
    "a quoted path": "open('/" + "root/x')",
    "a home folder": "at /" + "home/ann/boat.toml",
    "a mac home folder": "at /" + "Users/ann/boat.toml",
    "an installed wheel": "file:///" + "opt/wheels",
    "a temporary path": "write /" + "tmp/out.json",
    "a workplace folder": "see ." + "library/notes",
    "a workplace file": "see DEVELOPERS" + ".md",
    "a workplace value list": "from check" + "-values.md",
    "where it was heard": "as the seed" + " document says",
    "an unfinished thought": "# TO" + "DO later",
}


@pytest.mark.parametrize("text", BAD_WORDS.values(), ids=BAD_WORDS.keys())
def test_forbidden_words_are_found_with_their_line(text):
    found = house.check("docs/page.md", "fine\n" + text + "\n")
    assert [(finding.path, finding.line) for finding in found] == [("docs/page.md", 2)]


@pytest.mark.parametrize(
    "text",
    ["https://example.org/" + "work/paper.pdf", "framework/tests", "the path.library_name", "a todo list", "./work/x"],
)
def test_innocent_words_pass(text):
    assert house.check("docs/page.md", text) == []


def test_a_lock_with_a_private_address_is_found():
    public = 'url = "https://files.pythonhosted.org/packages/a.whl"\n'
    assert house.check("uv.lock", public) == []
    private = public + 'registry = "https://packages.example.internal/simple"\n'
    assert [finding.line for finding in house.check("uv.lock", private)] == [2]


GOOD = '"""Says what it is for."""\n'

BAD_MODULES = {
    "no purpose": ("x = 1\n", 1, "first line"),
    "purpose after code": ('x = 1\n"""Late."""\n', 1, "first line"),
    "purpose after a licence": ("# All rights\n" + GOOD, 1, "first line"),
    "purpose on the second line": ('"""\nLate.\n"""\n', 1, "first line"),
    "nothing at all": ("", 1, "empty module"),
    "too long": (GOOD + "x = 1\n" * house.LONGEST_MODULE, 401, "401 lines"),
    "print": (GOOD + "print(1)\n", 2, "print()"),
    "breakpoint": (GOOD + "breakpoint()\n", 2, "breakpoint()"),
    "debugger": (GOOD + "import pdb\n", 2, "debugger"),
    "bare except": (GOOD + "try:\n    x = 1\nexcept:\n    x = 2\n", 4, "bare except"),
}


@pytest.mark.parametrize(("text", "line", "told"), BAD_MODULES.values(), ids=BAD_MODULES.keys())
def test_each_module_rule_can_fail(text, line, told):
    (found,) = house.check(CORE, text)
    assert found.line == line
    assert told in found.rule


@pytest.mark.parametrize(
    "text",
    [
        GOOD,
        "# SPDX-License-Identifier: MIT\n" + GOOD,
        "#!/usr/bin/env python3\n" + GOOD,
        GOOD + "x = 1\n" * (house.LONGEST_MODULE - 1),
        GOOD + "try:\n    x = 1\nexcept ValueError:\n    x = 2\n",
        GOOD + "def imprint(): ...\nimprint()\n",
    ],
)
def test_good_modules_pass(text):
    assert house.check(CORE, text) == []


def test_a_face_and_a_tool_may_print():
    assert house.check("src/spreadwright/cli/__init__.py", GOOD + "print(1)\n") == []
    assert house.check("tools/draw.py", GOOD + "print(1)\n") == []


def test_a_long_script_of_a_page_is_found():
    assert len(house.check("src/spreadwright/web/static/deck.js", "x;\n" * 501)) == 1
