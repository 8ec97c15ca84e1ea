"""Lines that fit: against a measure of one millimetre a letter."""

from hypothesis import given
from hypothesis import strategies as st

from schemeforge.export.page import Face
from schemeforge.export.typesetting import Style, lines_of, shrunk

STYLE = Style(size_pt=10.0)


def one_mm(text: str, face: Face, size_pt: float) -> float:
    """A millimetre a letter at 10 points."""
    del face
    return len(text) * size_pt / 10.0


def test_lines_break_at_spaces_and_keep_paragraphs() -> None:
    assert lines_of("a bc def\n\ng", STYLE, 4.0, one_mm) == ("a bc", "def", "", "g")


def test_words_that_are_too_long_are_broken_as_late_as_can_be() -> None:
    assert lines_of("abcdefghij", STYLE, 4.0, one_mm) == ("abcd", "efgh", "ij")
    assert lines_of("abcdefgh", STYLE, 4.0, one_mm) == ("abcd", "efgh")
    assert lines_of("ab", STYLE, 0.5, one_mm) == ("a", "b")


@given(st.text(alphabet="ab \n", max_size=80), st.integers(1, 30))
def test_every_line_fits_and_no_letter_is_lost(text: str, width: int) -> None:
    lines = lines_of(text, STYLE, float(width), one_mm)
    assert all(len(line) <= width for line in lines)
    assert "".join(lines).replace(" ", "") == text.replace(" ", "").replace("\n", "")


@given(st.text(alphabet="ab ", min_size=1, max_size=80), st.integers(2, 30))
def test_text_shrinks_no_further_than_allowed_and_no_more_than_needed(
    text: str, width: int
) -> None:
    style, lines = shrunk(text, STYLE, float(width), one_mm, most=2, least_pt=6.0)
    assert 6.0 <= style.size_pt <= 10.0
    assert lines == lines_of(text, style, float(width), one_mm)
    if style.size_pt < 10.0:
        larger = style.sized(style.size_pt + 0.5)
        assert len(lines_of(text, larger, float(width), one_mm)) > 2
    if style.size_pt > 6.0:
        assert len(lines) <= 2
