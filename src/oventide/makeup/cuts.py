"""Where the log is cut: trim, kerf, equal pieces, marks from the left end, and the cuts in words."""

from dataclasses import dataclass

_PART = {
    1: "piece", 2: "half", 3: "third", 4: "quarter", 6: "sixth", 8: "eighth", 9: "ninth", 12: "twelfth",
    16: "sixteenth", 18: "eighteenth", 24: "twenty-fourth", 27: "twenty-seventh",
}  # fmt: skip
_INTO = {2: "halves", 3: "thirds"}


@dataclass(frozen=True)
class Cuts:
    """One log cut up [mm]. `marks_mm` are the middles of all cuts, from the left end, trim cuts included."""

    log_mm: float
    pieces: int
    trim_mm: float
    kerf_mm: float
    piece_mm: float
    marks_mm: tuple[float, ...]

    @property
    def kerfs_mm(self) -> float:
        """Width of all cuts together [mm]."""
        return len(self.marks_mm) * self.kerf_mm


def cut(log_mm: float, pieces: int, trim_mm: float = 0.0, kerf_mm: float = 0.0) -> Cuts:
    """Cut a log in equal pieces: pieces · height + 2 · trim + cuts · kerf = log.

    With trim there are two cuts more than between the pieces. A height of zero or less means that trim and kerf
    take the whole log; the caller refuses it.

    >>> cut(300, 9).marks_mm[:2], round(cut(300, 9).piece_mm, 3)
    ((33.333333333333336, 66.66666666666667), 33.333)
    >>> cut(100, 2, trim_mm=5, kerf_mm=1).marks_mm
    (5.5, 50.0, 94.5)
    """
    end_cuts = 1 if trim_mm > 0 else 0
    count = pieces - 1 + 2 * end_cuts
    piece = (log_mm - 2 * trim_mm - count * kerf_mm) / pieces
    first = trim_mm + end_cuts * kerf_mm
    between = [first + index * (piece + kerf_mm) - kerf_mm / 2 for index in range(1, pieces)]
    ends = ([trim_mm + kerf_mm / 2], [log_mm - trim_mm - kerf_mm / 2]) if end_cuts else ([], [])
    return Cuts(log_mm, pieces, trim_mm, kerf_mm, piece, tuple(ends[0] + between + ends[1]))


def cuts_in_words(pieces: int) -> str:
    """The cuts as a baker does them by eye: halves and thirds first, the rest by the marks.

    >>> cuts_in_words(9)
    'thirds, then each third in thirds'
    >>> cuts_in_words(12)
    'halves, then each half in halves, then each quarter in thirds'
    >>> cuts_in_words(10)
    'halves, then each half in 5 by the marks'
    """
    if pieces == 1:
        return "one piece, no cut"
    steps, rest = [], pieces
    for factor in (2, 3):
        while rest % factor == 0:
            steps.append(factor)
            rest //= factor
    parts, words = 1, []
    for factor in steps:
        name = _PART.get(parts, "part")
        words.append(_INTO[factor] if parts == 1 else f"each {name} in {_INTO[factor]}")
        parts *= factor
    if rest > 1:
        which = "" if parts == 1 else f"each {_PART.get(parts, 'part')} in "
        words.append(f"{which}{rest} by the marks")
    return ", then ".join(words)
