"""Truing a bodice: measured values take the place of proportions, girths become body plus ease.

`true_frame` is a step of its own after a system's construction. It returns the altered numbers, and of each
what it was, what it is and why.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from cutonce.blocks.bodice_frame import Construction, Frame, Meeting
from cutonce.blocks.bodice_neck import half_neckline
from cutonce.blocks.bodice_shoulder import back_shoulder, front_shoulder
from cutonce.blocks.ease import BodiceEase
from cutonce.body import Body, shoulder_slope
from cutonce.draft.span import BLOCK
from cutonce.errors import CannotApply, Finding
from cutonce.geometry.tolerance import TOLD_MM

_ROUNDS = 30
_SETTLING = 6
_ALONE = Meeting()

LEAST_OVERHANG = 3.0
"""A shoulder ends at least this far beyond the width line of its armhole."""

LEAST_DART, MOST_DART = math.radians(2), math.radians(45)
"""The bust dart's angle stays within these; a body that asks for less or more is told so."""


@dataclass(frozen=True, slots=True)
class Altered:
    """One number that truing changed: what it is called, before and after in mm (or degrees), and why."""

    where: str
    what: str
    was: float
    now: float
    why: str
    unit: str = "mm"

    def finding(self) -> Finding:
        if self.unit == "mm":
            said = f"{self.what} {self.was / 10:.1f} cm by the system, {self.now / 10:.1f} cm {self.why}"
        else:
            said = f"{self.what} {self.was:.1f} {self.unit} by the system, {self.now:.1f} {self.why}"
        return Finding("note", "trued", self.where, said, step=BLOCK)


def is_measured(body: Body, key: str) -> bool:
    """Whether the body has this measure and it was taken, not estimated: only then does it override."""
    found = body.find(key, "left")
    return found is not None and found.estimate is None


def true_frame(
    built: Construction, body: Body, ease: BodiceEase, meeting: Meeting = _ALONE
) -> tuple[Frame, tuple[Altered, ...]]:
    """The construction's frame with this body's measures and ease in it, and what was altered.

    `meeting` is what two unlike halves have settled together. Raises CannotApply where the measures leave no
    room for an armhole or a bust dart.
    """
    frame = _shoulder(_depths(_widths(built, body, ease), built, body, ease, meeting), body)
    if meeting.neck is None:
        frame = _bust(_neck(frame, body, ease, None), built, body)
    else:  # neck width, front length and neck depth wait for one another
        for _ in range(_SETTLING):
            frame = _bust(_neck(frame, body, ease, frame.front_neck - meeting.neck), built, body)
        neck = replace(frame.neck, front_depth=frame.front_neck - meeting.neck)
        frame = replace(frame, neck=neck)
    within = _within_shoulders(frame)
    _must_have_room(frame)
    return within, (*_differences(built.frame, frame, body, meeting), *_moved_in(frame, within))


def _widths(built: Construction, body: Body, ease: BodiceEase) -> Frame:
    """Half width to bust plus ease; across back and front as measured, else moved by the ease's change."""
    frame, own = built.frame, built.ease
    half = (body.mm("bust_girth") + ease.bust) / 2
    back = frame.back_width + (ease.across_back - own.across_back) / 2
    chest = frame.chest_width + (ease.across_front - own.across_front) / 2
    if is_measured(body, "across_back_width"):
        back = (body.mm("across_back_width") + ease.across_back) / 2
    if is_measured(body, "across_front_width"):
        chest = (body.mm("across_front_width") + ease.across_front) / 2
    line = frame.front_line + chest - frame.chest_width
    dart_point = frame.shoulder.dart_point + (back - frame.back_width) / 2
    return replace(
        frame,
        half_width=half,
        back_width=back,
        chest_width=chest,
        front_line=line,
        shoulder=replace(frame.shoulder, dart_point=dart_point),
    )


def _depths(frame: Frame, built: Construction, body: Body, ease: BodiceEase, meeting: Meeting) -> Frame:
    """The underarm line at the measured scye depth; the bust line and front neck stay where they were."""
    underarm = frame.underarm - (ease.scye_depth - built.ease.scye_depth)
    if is_measured(body, "scye_depth"):
        underarm = frame.nape - body.mm("scye_depth") - ease.scye_depth
    underarm -= meeting.lowered
    lowered = frame.underarm - underarm
    place = frame.bust.place + (lowered / 2 if frame.bust.opens_on == "armhole" else 0)
    return replace(frame, underarm=underarm, bust=replace(frame.bust, place=place))


def _bust(frame: Frame, built: Construction, body: Body) -> Frame:
    """The bust point where the measures put it, the front as long as measured; the dart takes the difference.

    What the front gains in length above the bust line goes into the bust dart, so that the front armhole,
    dart closed, keeps its depth: sin(angle) = sin(angle before) + gain / (bust point to side seam).
    """
    point, front_neck = built.frame.bust.point, built.frame.front_neck
    x = body.mm("bust_span") / 2 if is_measured(body, "bust_span") else point.real
    across = x - frame.neck.front_width
    y = point.imag
    if is_measured(body, "neck_to_bust_point"):
        slant = body.mm("neck_to_bust_point")
        down = _upright(slant, across, "neck_to_bust_point", body)
        if is_measured(body, "front_waist_length"):
            y = body.mm("front_waist_length") - slant
            front_neck = y + down
        else:
            y = front_neck - down
    else:
        if is_measured(body, "nape_to_bust_level"):
            y = frame.nape - body.mm("nape_to_bust_level")
        if is_measured(body, "front_waist_length"):
            slant = body.mm("front_waist_length") - y
            front_neck = y + _upright(slant, across, "front_waist_length", body)
    gain = front_neck - built.frame.front_neck
    sine = math.sin(built.frame.bust.angle) + gain / max(frame.side - x, 40.0)
    angle = math.asin(min(math.sin(MOST_DART), max(math.sin(LEAST_DART), sine)))
    bust = replace(frame.bust, point=complex(x, y), angle=angle)
    return replace(frame, bust=bust, front_neck=front_neck)


def _upright(slant: float, across: float, key: str, body: Body) -> float:
    """The upright side of the slant from side neck point to bust point."""
    if slant < 1.2 * abs(across):
        raise CannotApply(
            "impossible-measure",
            body.name,
            f"{key} {body.mm(key) / 10:.1f} cm leaves {slant / 10:.1f} cm from the side neck point to the "
            f"bust point, which lies {abs(across) / 10:.1f} cm to the side of it",
            "measure it again, and bust_span",
        )
    return math.sqrt(slant**2 - across**2)


def _shoulder(frame: Frame, body: Body) -> Frame:
    """The shoulder as long and as steep as measured; front and back keep the difference of their slopes."""
    shoulder = frame.shoulder
    if is_measured(body, "shoulder_length"):
        shoulder = replace(shoulder, length=body.mm("shoulder_length"))
        if is_measured(body, "shoulder_drop"):
            slope = shoulder_slope(body)
            middle = (shoulder.front_slope + shoulder.back_slope) / 2
            change = slope - middle
            shoulder = replace(
                shoulder,
                front_slope=shoulder.front_slope + change,
                back_slope=shoulder.back_slope + change,
            )
    return replace(frame, shoulder=shoulder)


def _neck(frame: Frame, body: Body, ease: BodiceEase, depth: float | None) -> Frame:
    """Neck widths and front depth by one factor, so that the neckline is the neck base girth plus ease.

    A given `depth` of the front stands, and only the widths follow.
    """
    if depth is not None:
        frame = replace(frame, neck=replace(frame.neck, front_depth=depth))
    if not is_measured(body, "neck_base_girth"):
        return frame
    target = (body.mm("neck_base_girth") + ease.neck) / 2
    neck = frame.neck

    def scaled(k: float) -> Frame:
        deep = neck.front_depth if depth is not None else k * neck.front_depth
        return replace(
            frame,
            neck=replace(
                neck, front_width=k * neck.front_width, front_depth=deep, back_width=k * neck.back_width
            ),
        )

    one, two = 1.0, 1.02
    off_one, found = half_neckline(scaled(one)) - target, scaled(two)
    for _ in range(_ROUNDS):
        off_two = half_neckline(found) - target
        if abs(off_two) < 1e-9 or off_two == off_one:
            break
        one, two, off_one = two, two - off_two * (two - one) / (off_two - off_one), off_two
        if not 0.3 < two < 3:
            raise CannotApply(
                "no-neckline",
                body.name,
                f"a neck_base_girth of {body.mm('neck_base_girth') / 10:.1f} cm does not fit this body",
                "measure it again, on the edge of the tape",
            )
        found = scaled(two)
    return found


def _within_shoulders(frame: Frame) -> Frame:
    """Width lines that stand at least 3 mm within the shoulder points: an armhole must not bulge outwards.

    So the armhole gives up width where the shoulder, as measured, is too short for it.
    """
    back = min(frame.back_width, back_shoulder(frame).tip.real - LEAST_OVERHANG)
    tip = front_shoulder(frame).tip.real
    if frame.bust.opens_on == "shoulder":
        return replace(frame, back_width=back, front_line=min(frame.front_line, tip - LEAST_OVERHANG))
    chest = min(frame.chest_width, tip - LEAST_OVERHANG)
    line = frame.front_line + chest - frame.chest_width
    return replace(frame, back_width=back, chest_width=chest, front_line=line)


def _moved_in(was: Frame, now: Frame) -> Iterator[Altered]:
    why = "so that the shoulder reaches beyond it"
    rows = (
        ("back", "half across back", was.back_width, now.back_width),
        ("front", "half across front", was.chest_width, now.chest_width),
    )
    for where, what, a, b in rows:
        if abs(a - b) > TOLD_MM:
            yield Altered(where, what, a, b, why)


def _must_have_room(frame: Frame) -> None:
    armhole = frame.half_width - frame.back_width - frame.front_line
    if armhole < 30:
        raise CannotApply(
            "no-armhole",
            BLOCK,
            f"half the bust with ease is {frame.half_width / 10:.1f} cm, back and front take "
            f"{(frame.back_width + frame.front_line) / 10:.1f} cm: no room for an armhole",
            "check bust_girth, across_back_width and across_front_width, or give more ease at the bust",
        )
    if not 30 < frame.bust.point.real < frame.chest_width - 10:
        raise CannotApply(
            "bust-point-off",
            BLOCK,
            f"the bust point lies {frame.bust.point.real / 10:.1f} cm from the centre front, "
            f"half the chest is {frame.chest_width / 10:.1f} cm",
            "check bust_span and across_front_width",
        )
    if frame.bust.point.imag < 50 or frame.underarm < 50:
        raise CannotApply(
            "too-low",
            BLOCK,
            f"bust point and armhole end {frame.bust.point.imag / 10:.1f} and "
            f"{frame.underarm / 10:.1f} cm above the waist; 5 cm are needed",
            "check back_waist_length, scye_depth, front_waist_length and neck_to_bust_point",
        )


_BARE = ("bust_span", "shoulder_length")
"""Measures to which no ease is added."""


def _differences(was: Frame, now: Frame, body: Body, meeting: Meeting) -> Iterator[Altered]:
    def measured(name: str) -> str:
        if not is_measured(body, name):
            return "for the ease stated"
        return "as measured" if name in _BARE else "as measured, with ease"

    neck, neck_was, neck_now = measured("neck_base_girth"), was.neck, now.neck
    scye = "lying with its shoulder" if meeting.lowered else measured("scye_depth")
    rows = (
        ("block", "half the bust with ease", was.half_width, now.half_width, "for the ease stated"),
        ("back", "half across back", was.back_width, now.back_width, measured("across_back_width")),
        ("front", "half across front", was.chest_width, now.chest_width, measured("across_front_width")),
        ("block", "scye depth", was.nape - was.underarm, now.nape - now.underarm, scye),
        ("front", "half bust span", was.bust.point.real, now.bust.point.real, measured("bust_span")),
        (
            "front",
            "bust point above the waist",
            was.bust.point.imag,
            now.bust.point.imag,
            "from its measures",
        ),
        ("front", "neck point above the waist", was.front_neck, now.front_neck, "from the front's length"),
        ("block", "shoulder", was.shoulder.length, now.shoulder.length, measured("shoulder_length")),
        ("front", "neck width", neck_was.front_width, neck_now.front_width, neck),
        ("front", "neck depth", neck_was.front_depth, neck_now.front_depth, neck),
        ("back", "neck width", neck_was.back_width, neck_now.back_width, neck),
    )
    for where, what, a, b, why in rows:
        if abs(a - b) > TOLD_MM:
            yield Altered(where, what, a, b, why)
    angles = (
        ("front", "bust dart", was.bust.angle, now.bust.angle, "for the front's length"),
        ("front", "shoulder slope", was.shoulder.front_slope, now.shoulder.front_slope, "as measured"),
        ("back", "shoulder slope", was.shoulder.back_slope, now.shoulder.back_slope, "as measured"),
    )
    for where, what, a, b, why in angles:
        if abs(a - b) > 1e-4:
            yield Altered(where, what, math.degrees(a), math.degrees(b), why, "degrees")
