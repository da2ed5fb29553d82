"""What has to be settled or asked, in one line each to stand beside a total: findings go in, text comes out."""

from collections.abc import Sequence

from estimator.checks.model import Finding, Level

MOST_SUBJECTS = 4
"""So many subjects are named; the section of findings has them all."""
MOST_LETTERS = 40
"""A subject longer than this is shortened."""


def to_settle(findings: Sequence[Finding]) -> str:
    """`2 things to settle before buying: kiln, S`; empty where nothing stops. Subjects in the order of the findings, each once."""
    stops = [finding for finding in findings if finding.level == "stop"]
    if not stops:
        return ""
    subjects = tuple(dict.fromkeys(_short(finding.subject) for finding in stops))
    told = ", ".join(subjects[:MOST_SUBJECTS])
    more = len(subjects) - MOST_SUBJECTS
    return f"{_counted(len(stops), 'thing')} to settle before buying: {told}{f' and {more} more' if more > 0 else ''}"


def to_ask(findings: Sequence[Finding]) -> str:
    """`9 questions for your electrician; 10 things not checked`; empty where there are neither."""
    asked, unchecked = (sum(finding.level == level for finding in findings) for level in ("ask", "unchecked"))
    return "; ".join(
        (
            *((f"{_counted(asked, 'question')} for your electrician",) if asked else ()),
            *((f"{_counted(unchecked, 'thing')} not checked",) if unchecked else ()),
        )
    )


def first_open(findings: Sequence[Finding]) -> Level:
    """The heading that `to_ask` leads to: questions, or, without any, what was not checked."""
    return "ask" if any(finding.level == "ask" for finding in findings) else "unchecked"


def _counted(count: int, what: str) -> str:
    return f"{count} {what}{'' if count == 1 else 's'}"


def _short(subject: str) -> str:
    return subject if len(subject) <= MOST_LETTERS else f"{subject[: MOST_LETTERS - 4].rstrip()} ..."
