"""What several returned lists say together, and what keeping them needs: lists go in, problems and remarks come out."""

from collections.abc import Container, Sequence

from estimator.documents.list_words import lines_words
from estimator.documents.words import ANY
from estimator.problems import Place, Problem
from estimator.result import Estimate
from estimator.returned.model import Answer, Returned, Told


def twice(returned: Sequence[Returned]) -> list[Problem]:
    """Lists of one merchant that are of different days, or that price one pack differently."""
    problems = []
    for at, of in enumerate(returned):
        for other in returned[:at]:
            if of.merchant and of.merchant == other.merchant:
                problems += _other_day(of, other) or _other_prices(of, other)
    return problems


def _other_day(of: Returned, other: Returned) -> list[Problem]:
    if of.priced_on is None or other.priced_on is None or of.priced_on == other.priced_on:
        return []
    days = f"of {of.priced_on.isoformat()}, and in {other.file} of {other.priced_on.isoformat()}"
    return [Problem(Place(of.file), "", f"prices of {of.merchant} {days}", "which holds? give that one alone")]


def _other_prices(of: Returned, other: Returned) -> list[Problem]:
    prices = {(one.part, one.pack): one for one in other.lines if one.status == "priced"}
    problems = []
    for one in of.lines:
        first = prices.get((one.part, one.pack))
        if one.status == "priced" and first is not None and (first.price, first.basis) != (one.price, one.basis):
            found = f"{one.price} {one.basis} VAT, and {first.price} {first.basis} VAT at {first.place}"
            problems.append(Problem(one.place, _where(one), found, "which holds? give that list alone, or mend one"))
    return problems


def held_back(returned: Sequence[Returned]) -> list[Told]:
    """Prices that are not kept since their notes are not settled yet."""
    told = []
    for of in returned:
        held = [answer.number for answer in of.lines if answer.status == "held"]
        if held:
            words = f"held, and not written: {lines_words(held)}; what they write there is told above"
            told.append(Told(Place(of.file), words))
    return told


def _where(answer: Answer) -> str:
    return f"line {answer.number}" if answer.number else answer.part


def unnamed(returned: Sequence[Returned], to: str) -> list[Problem]:
    """Lists that nobody says whose they are, where that is needed."""
    problems = []
    for of in returned:
        if not of.merchant and not of.problems:
            by = next((told.text for told in of.told if told.text.startswith("priced by ")), "")
            found = f"nothing says whose prices these are, and to {to} them they need a name{f' ({by})' if by else ''}"
            write = (
                f'write NAME={of.file}, or give --merchant "NAME"'
                if of.lines and of.lines[0].number
                else 'give --merchant "NAME"'
            )
            problems.append(Problem(Place(of.file), "", found, write))
    return problems


def not_to_keep(returned: Sequence[Returned], gone: Container[str]) -> list[Problem]:
    """Lists without a day, or without any price; of the merchants `gone` prices that were there go out."""
    problems = []
    for of in returned:
        if of.problems:
            continue
        if of.priced_on is None:
            found = "nothing says of which day these prices are"
            problems.append(
                Problem(Place(of.file), "", found, "give the day, year first, as in --priced-on 2026-10-31")
            )
        if of.merchant not in gone and not any(answer.status == "priced" for answer in of.lines):
            held = [answer.number for answer in of.lines if answer.status == "held"]
            found = f"no line has a price that counts: {lines_words(held)} held" if held else "no line has a price"
            problems.append(Problem(Place(of.file), "", found, "there is nothing to keep: leave out --write"))
    return problems


def remarks(estimate: Estimate, returned: Sequence[Returned]) -> tuple[Told, ...]:
    """What follows for the job: makes of switchgear, delivery of a merchant that is new, and where the job buys."""
    told: list[Told] = []
    buying = estimate.job.buying.merchants
    for of in returned:
        place = Place(of.file)
        told += _makes(estimate, of)
        makes = [answer for answer in of.lines if answer.status == "priced" and answer.match and not answer.make]
        if makes and of.merchant not in ("", of.answers):
            numbered = all(answer.number for answer in makes)
            lines = (
                lines_words(of.number for of in makes) if numbered else ", ".join(_where(answer) for answer in makes)
            )
            words = (
                f"switchgear of one make ({lines}): {of.merchant} has not said which make, so its name stands for it and "
                'these prices go together alone; ask, and let them write it under Note, as in "make Zed"'
            )
            told.append(Told(place, words))
        if of.seller is not None and not of.seller.delivery_known:
            told.append(
                Told(
                    place,
                    f"what {of.merchant} charges for delivery is not known and counts as nothing: write it into merchants.csv",
                )
            )
        if of.merchant and ANY not in buying and of.merchant not in buying:
            told.append(
                Told(
                    place,
                    f"the job does not buy from {of.merchant}: add the name to merchants under [buying] in the job",
                )
            )
    return tuple(dict.fromkeys(told))


def _makes(estimate: Estimate, of: Returned) -> list[Told]:
    """Parts that have to be of one make, and that the list prices of several."""
    groups: dict[str, dict[str, list[Answer]]] = {}
    for answer in of.lines:
        group = estimate.catalogue.parts[answer.part].match_group
        if answer.status == "priced" and group:
            groups.setdefault(group, {}).setdefault(answer.make.casefold(), []).append(answer)
    told = []
    for makes in groups.values():
        if len(makes) > 1:
            said = ", ".join(f"{lines[0].make or 'no make said'} in {_lines(lines)}" for lines in makes.values())
            words = f"these have to be of one make, and are priced of several: {said}; they are never bought together, so ask for one make"
            told.append(Told(Place(of.file), words))
    return told


def _lines(answers: Sequence[Answer]) -> str:
    return lines_words(of.number for of in answers) if answers[0].number else ", ".join(of.part for of in answers)
