"""A check of a rig against the numbers in the IGFA International Angling Rules, for records.

Edition: International Angling Rules, updated 27 October 2021 (line and double line read there;
leader and combined lengths in a notice of the Japanese association; hook clauses in a tournament's
and in the Australian association's copy). Rules change and have clauses this check does not
know: it reports numbers, and says that a ruling decides. It never says a rig may be used.
"""

from __future__ import annotations

from dataclasses import dataclass

EDITION = "IGFA International Angling Rules, updated 27 October 2021 (saltwater)"
RULING = (
    "These are the numbers of one edition, read second hand in part. Only a ruling by the record "
    "keeper decides; local law and tournament rules come first and are not checked here."
)
WEIGHT_NOTE = (
    "No clause on trolling weights was found. A weight between double line and leader is read "
    "here as adding its length to the leader; one association asks for a breakaway for anything "
    "that impedes the fish. Ask for a ruling before fishing it for a record."
)

LIGHT_CLASS_KG = 10.0
MOST_CLASS_KG = 60.0
LINE_CLASSES_KG: dict[int, int] = {
    1: 2, 2: 4, 3: 6, 4: 8, 6: 12, 8: 16, 10: 20, 15: 30, 24: 50, 37: 80, 60: 130,
}  # kg -> lb; 10/20, 15/30, 60/130 were read, the others are from memory  # fmt: skip
STANDARD_GRAVITY = 9.80665  # [m/s2], exact: 1 kgf = 9.80665 N

DOUBLE_LINE_MOST = {"light": 4.57, "heavy": 9.14}  # [m], 15 ft and 30 ft
LEADER_MOST = {"light": 4.57, "heavy": 9.14}  # [m], 15 ft and 30 ft
COMBINED_MOST = {"light": 6.10, "heavy": 12.19}  # [m], 20 ft and 40 ft
HOOK_EYES_APART_MOST = 0.3048  # [m], 12 in
HOOKS_MOST = 2
FEET_ROUNDING = 0.005  # [m]: the metric figures are printed to 1 cm, feet are exact


@dataclass(frozen=True, slots=True)
class RecordRig:
    """What the check needs to know of one rig; lengths [m], strength [N].

    leader_length runs from the double line's end to the bend of the last hook, so it includes
    swivel, weight and lure. hook_eyes_apart None: single hook. hook_length: overall length of the
    largest hook. past_skirt: how far the trailing hook stands out behind the skirt, its own
    length allowed. double_line 0: none. class_kg None: read from line_strength.
    """

    double_line: float
    leader_length: float
    hooks: int
    line_strength: float
    line_is_wire: bool = False
    class_kg: int | None = None
    hook_eyes_apart: float | None = None
    hook_length: float | None = None
    past_skirt: float | None = None
    hooks_pinned_through_eye: bool = False
    gang_hooks: bool = False
    weight_fished: bool = False


@dataclass(frozen=True, slots=True)
class RuleCheck:
    """One rule held against the rig: inside True/False, or None when a measure is missing."""

    rule: str
    inside: bool | None
    given: str
    limit: str
    next_step: str


@dataclass(frozen=True, slots=True)
class RecordReview:
    """All checks, the line class they used, the edition, and the sentence that a ruling decides."""

    line_class_kg: int | None
    checks: tuple[RuleCheck, ...]
    edition: str = EDITION
    ruling: str = RULING
    notes: tuple[str, ...] = ()

    @property
    def outside(self) -> tuple[RuleCheck, ...]:
        """The rules whose number the rig does not keep."""
        return tuple(check for check in self.checks if check.inside is False)

    @property
    def unknown(self) -> tuple[RuleCheck, ...]:
        """The rules that could not be held against the rig, for want of a measure."""
        return tuple(check for check in self.checks if check.inside is None)


def line_class(strength: float) -> int | None:
    """Line class [kg] for line that breaks at `strength` [N]: the smallest class not below it.

    The class limit is the kg value (10 kg = 22.046 lb). None above the 60 kg class.

    >>> line_class(80.0 * 4.4482216152605), line_class(140.0 * 4.4482216152605)
    (37, None)
    """
    kilograms = strength / STANDARD_GRAVITY
    for class_kg in sorted(LINE_CLASSES_KG):
        if kilograms <= class_kg * (1.0 + 1e-9):
            return class_kg
    return None


def review(rig: RecordRig) -> RecordReview:
    """Hold `rig` against the rules' numbers. Measures left out come back as unknown.

    Worked example: 30 ft double line with a 30 ft leader keeps both single limits and breaks the
    combined one (40 ft) in the classes above 10 kg.

    >>> rig = RecordRig(double_line=9.14, leader_length=9.14, hooks=1, line_strength=350.0)
    >>> [check.rule for check in review(rig).outside]
    ['double line and leader together']
    """
    class_kg = rig.class_kg if rig.class_kg is not None else line_class(rig.line_strength)
    tackle = "light" if class_kg is not None and class_kg <= LIGHT_CLASS_KG else "heavy"
    checks = (
        *_line_checks(rig, class_kg),
        _length("double line", rig.double_line, DOUBLE_LINE_MOST[tackle], "shorten the double line"),
        _length("leader", rig.leader_length, LEADER_MOST[tackle], "shorten the leader"),
        _length(
            "double line and leader together",
            rig.double_line + rig.leader_length,
            COMBINED_MOST[tackle],
            "shorten the double line or the leader",
        ),
        *_hook_checks(rig),
    )
    notes = (WEIGHT_NOTE,) if rig.weight_fished else ()
    return RecordReview(class_kg, checks, notes=notes)


def _line_checks(rig: RecordRig, class_kg: int | None) -> tuple[RuleCheck, ...]:
    kilograms = rig.line_strength / STANDARD_GRAVITY
    within = class_kg is not None and kilograms <= class_kg * (1.0 + 1e-9)
    return (
        RuleCheck(
            "line class",
            within,
            f"line that breaks at {kilograms:.1f} kg"
            + (f" in the {class_kg} kg class" if class_kg is not None else ""),
            f"not above its class; no class above {MOST_CLASS_KG:g} kg",
            "have a sample tested, or enter it in the class it tests in",
        ),
        RuleCheck(
            "no wire as line",
            not rig.line_is_wire,
            "wire line" if rig.line_is_wire else "no wire line",
            "the line itself may not be wire; the leader may be of anything",
            "fish nylon or braid as main line",
        ),
    )


def _length(rule: str, metres: float, most: float, next_step: str) -> RuleCheck:
    inside = metres <= most + FEET_ROUNDING
    given = f"{metres:.2f} m ({metres / 0.3048:.1f} ft)"
    return RuleCheck(rule, inside, given, f"at most {most:.2f} m ({most / 0.3048:.0f} ft)", next_step)


def _hook_checks(rig: RecordRig) -> tuple[RuleCheck, ...]:
    checks = [
        RuleCheck(
            "hooks on a skirted lure",
            rig.hooks <= HOOKS_MOST and not rig.gang_hooks,
            f"{rig.hooks} hook(s)" + (", double or treble" if rig.gang_hooks else ""),
            "at most two, single hooks",
            "rig one or two single hooks",
        )
    ]
    if rig.hooks >= 2:
        checks.append(_eyes_apart(rig))
    checks.append(_behind_skirt(rig))
    return tuple(checks)


def _eyes_apart(rig: RecordRig) -> RuleCheck:
    limit = "hook eyes one overall hook length apart or more, and 30.48 cm (12 in) apart or less"
    if rig.hook_eyes_apart is None or rig.hook_length is None:
        return RuleCheck("hook spacing", None, "not given", limit, "measure between the eyes, and the hook")
    apart = rig.hook_eyes_apart
    near_enough = apart <= HOOK_EYES_APART_MOST + 1e-6
    far_enough = rig.hooks_pinned_through_eye or apart >= rig.hook_length - 1e-6
    return RuleCheck(
        "hook spacing",
        near_enough and far_enough,
        f"eyes {apart * 100.0:.1f} cm apart, hook {rig.hook_length * 100.0:.1f} cm"
        + (", point through the other eye" if rig.hooks_pinned_through_eye else ""),
        limit + ", unless the point of one passes through the eye of the other",
        "move the second hook",
    )


def _behind_skirt(rig: RecordRig) -> RuleCheck:
    limit = "the trailing hook at most one hook length beyond the skirt"
    if rig.past_skirt is None or rig.hook_length is None:
        return RuleCheck("trailing hook", None, "not given", limit, "measure behind the skirt")
    return RuleCheck(
        "trailing hook",
        rig.past_skirt <= rig.hook_length + 1e-6,
        f"{rig.past_skirt * 100.0:.1f} cm beyond the skirt",
        limit,
        "set the hook further forward",
    )
