import dataclasses
import math
from dataclasses import dataclass
from typing import Any

import pytest
from hypothesis import given

from schemeforge import codec
from schemeforge.errors import DamagedFileError, InputError, PaintMissingError, UnknownNameError
from schemeforge.scheme.project import Project
from schemeforge.scheme.steps import Coat, Primer, Step, Work, WorkKind
from tests.builders import coat_step, small_project
from tests.scheme.strategies import projects

Plain = dict[str, Any]


@pytest.fixture
def plain() -> Plain:
    return codec.encode(small_project())


def refusal(plain: object, error: type[Exception] = DamagedFileError) -> str:
    """The sentence with which the project is refused."""
    with pytest.raises(error) as caught:
        codec.decode(Project, plain)
    assert type(caught.value) is error
    sentence = str(caught.value)
    assert sentence.endswith(".")
    assert "\n" not in sentence
    return sentence


@given(projects())
def test_what_is_written_reads_back_the_same(project: Project) -> None:
    assert codec.decode(Project, codec.encode(project)) == project


def test_numbers_keep_their_last_digit() -> None:
    coat = Coat(mix_id="m", wet_um=0.1 + 0.2)
    assert codec.decode(Coat, codec.encode(coat)).wet_um == 0.30000000000000004


def test_defaults_are_left_out_but_ids_and_names_stand() -> None:
    step = codec.encode(coat_step("glaze", "pot", "hide"))
    assert step == {
        "id": "glaze",
        "name": "glaze",
        "layer": {"type": "coat", "mix_id": "pot"},
        "zone_ids": ["hide"],
    }


def test_members_of_a_union_are_told_apart_by_their_type() -> None:
    for layer, tag in (
        (Primer(mix_id="m"), "primer"),
        (Work(kind=WorkKind.DECAL, sprayed=True), "work"),
    ):
        step = Step(id="s", name="s", layer=layer, zone_ids=("z",))
        written = codec.encode(step)
        assert next(iter(written["layer"].items())) == ("type", tag)
        assert codec.decode(Step, written) == step


def test_whole_numbers_are_taken_for_floats() -> None:
    read = codec.decode(Coat, {"mix_id": "m", "wet_um": 30})
    assert read.wet_um == 30.0
    assert type(read.wet_um) is float


def test_a_wrong_type_is_named_with_its_place(plain: Plain) -> None:
    plain["schemes"][0]["steps"][2]["layer"]["wet_um"] = "heavy"
    sentence = refusal(plain)
    assert sentence == (
        "schemes[0].steps[2].layer.wet_um: Text stands where a number belongs; write a number."
    )


@pytest.mark.parametrize(
    ("field", "value", "words"),
    [
        ("wet_um", True, "true or false stands where a number belongs"),
        ("wet_um", None, "null stands where a number belongs"),
        ("wet_um", math.nan, "not finite"),
        ("wet_um", math.inf, "not finite"),
        ("wet_um", 10**400, "not finite"),
        ("wet_um", [], "A list stands"),
        ("passes", 2.0, "decimal point"),
        ("passes", 2.5, "A number stands where a whole number belongs"),
        ("passes", True, "true or false stands where a whole number belongs"),
        ("mix_id", 3, "A number stands where text belongs"),
        ("technique", 3, "A number stands where text belongs"),
        ("technique", "glace", 'did you mean "glaze"'),
        ("technique", "zzzz", 'use one of "base coat"'),
        ("placement", 3, "A number stands where a placement belongs"),
        ("placement", {"relief": {"kind": "pools in reces"}}, 'mean "pools in recesses"'),
        ("placement", {"relief": {"points": [[0, 1, 2]]}}, "The list has 3 entries; give 2"),
        ("placement", {"relief": {"points": {}}}, "An object stands where a list belongs"),
        ("wetum", 3, 'A coat has no such field; did you mean "wet_um"'),
        ("zzzzzz", 3, "A coat has no such field; remove it"),
    ],
)
def test_a_coat_that_is_wrong_is_refused_in_a_sentence(
    plain: Plain, field: str, value: object, words: str
) -> None:
    plain["schemes"][0]["steps"][2]["layer"][field] = value
    sentence = refusal(plain)
    assert words in sentence
    assert sentence.startswith(f"schemes[0].steps[2].layer.{field}")


def test_true_or_false_is_nothing_else(plain: Plain) -> None:
    plain["viewing"] = {"wet": 1}
    assert refusal(plain).startswith("viewing.wet: A number stands where true or false belongs")


@pytest.mark.parametrize(
    ("layer", "place", "words"),
    [
        ({"mix_id": "x"}, "layer", 'no "type"; add it: one of "primer", "spray", "coat", "work"'),
        ({"type": "cote"}, "layer.type", 'did you mean "coat"'),
        ({"type": 4}, "layer.type", "A number stands where text belongs"),
        ([], "layer", "A list stands where an object belongs"),
        ({"type": "spray"}, "layer", 'The spray has no "mix_id"; add it'),
    ],
)
def test_a_layer_must_say_what_it_is(plain: Plain, layer: object, place: str, words: str) -> None:
    plain["schemes"][0]["steps"][0]["layer"] = layer
    sentence = refusal(plain)
    assert sentence.startswith(f"schemes[0].steps[0].{place}: ")
    assert words in sentence


def test_a_missing_field_is_named(plain: Plain) -> None:
    del plain["groups"][1]["count"]
    assert refusal(plain) == 'groups[1]: The group has no "count"; add it.'


def test_the_top_has_no_place_to_name() -> None:
    assert refusal([]) == "A list stands where a project belongs; write { ... }."


def test_what_a_type_refuses_keeps_its_kind_and_gets_its_place(plain: Plain) -> None:
    plain["groups"][0]["count"] = -1
    assert refusal(plain, InputError).startswith('groups[0]: Group "rank and file": number of')


def test_names_that_lead_nowhere_keep_their_kind(plain: Plain) -> None:
    plain["schemes"][0]["steps"][0]["layer"]["mix_id"] = "primer-pod"
    assert 'did you mean "primer-pot"' in refusal(plain, UnknownNameError)


def test_a_paint_that_is_not_carried_keeps_its_kind(plain: Plain) -> None:
    plain["paints"] = [paint for paint in plain["paints"] if paint["id"] != "off-white"]
    assert '"off-white"' in refusal(plain, PaintMissingError)


def test_ids_stand_once(plain: Plain) -> None:
    plain["groups"].append(plain["groups"][0])
    assert refusal(plain, InputError) == 'Group "rank" stands twice; give each its own id.'


def test_lists_have_a_longest_length() -> None:
    with pytest.raises(DamagedFileError, match=r"zone_ids: The list has 100001 entries"):
        codec.decode(
            Step, {"id": "s", "name": "s", "layer": {"type": "work"}, "zone_ids": ["z"] * 100001}
        )


def test_a_long_or_hostile_name_is_quoted_short(plain: Plain) -> None:
    plain["x\n\x1b[31m" + "y" * 10**6] = 1
    sentence = refusal(plain)
    assert len(sentence) < 200
    assert "\x1b" not in sentence


@dataclass(frozen=True, slots=True, kw_only=True)
class Either:
    """A union of two that may also be left out."""

    id: str
    layer: Primer | Work | None = None
    pair: tuple[float, str] | None = None
    usual: Work = dataclasses.field(default_factory=lambda: Work(sprayed=True))


def test_optional_unions_pairs_and_unusual_defaults_go_both_ways() -> None:
    for value in (
        Either(id="a"),
        Either(id="a", layer=Work(), pair=(1.5, "x"), usual=Work(sprayed=False)),
        Either(id="a", layer=Primer(mix_id="m")),
    ):
        written = codec.encode(value)
        if value.usual == Work(sprayed=False):
            assert written["usual"] == {}
        assert codec.decode(Either, written) == value
    assert codec.decode(Either, {"id": "a", "layer": None}).layer is None
