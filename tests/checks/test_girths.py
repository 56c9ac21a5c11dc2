import pytest
from checks.planted import IDA, dress, found, skirt, whole

from cutonce.blocks import draft_block
from cutonce.body import body_of
from cutonce.checks.context import Context
from cutonce.checks.girths import girths


def skirt_with(**ease: float) -> Context:
    return Context(body=IDA, ease=ease)


def test_silent_on_sound_drafts() -> None:
    for draft in (skirt(), dress(), whole(skirt()), whole(dress())):
        assert found(girths, draft) == ()


@pytest.mark.parametrize(
    "hip_ease, severity", [(30.0, None), (21.0, None), (19.0, "warning"), (0.0, "warning"), (-8.0, "stop")]
)
def test_ease_at_the_hip(hip_ease: float, severity: str | None) -> None:
    """At least 25 mm at the hip, give or take 5; below the body it stops."""
    draft = draft_block("skirt", "", IDA, {"hip": hip_ease}, length=600.0)
    said = found(girths, draft)
    assert [f.severity for f in said] == ([severity] if severity else [])
    for finding in said:
        assert (finding.where, finding.step) == ("hip", "block")
        assert finding.found_mm == pytest.approx(950 + hip_ease, abs=0.5)


def test_another_body_in_the_same_garment() -> None:
    """She has grown 6 cm since: bust, waist and hip are told apart."""
    larger = body_of("later", {m.key: m.mm + (190 if "girth" in m.key else 0) for m in IDA.measures})
    said = found(girths, dress(), context=Context(body=larger))
    assert {(f.where, f.severity) for f in said} == {("bust", "stop"), ("waist", "stop"), ("hip", "stop")}


def test_ease_that_was_stated_may_be_small() -> None:
    draft = draft_block("skirt", "", IDA, {"hip": 8.0}, length=600.0)
    assert [f.severity for f in found(girths, draft)] == ["warning"]
    assert found(girths, draft, context=skirt_with(hip=8.0)) == ()


def test_negative_ease_is_for_cloth_that_stretches() -> None:
    draft = draft_block("skirt", "", IDA, {"hip": -40.0}, length=600.0)
    (finding,) = found(girths, draft, context=skirt_with(hip=-40.0))
    assert (finding.severity, finding.code) == ("note", "girth-stretched")
    (finding,) = found(girths, draft, context=skirt_with(hip=-20.0))
    assert finding.severity == "warning"


def test_a_body_without_the_measure_is_not_judged() -> None:
    only_waist = body_of("Ida", {"waist_girth": 700.0})
    assert found(girths, skirt(), context=Context(body=only_waist)) == ()
    assert found(girths, skirt(), context=Context()) == ()
