"""Pages in HTML: the name of a template and what it may use go in, one self-contained text comes out.

Everything a user wrote is escaped by the template engine; what no page may hold (control characters, marks that turn
the direction of writing) is replaced before that. A page asks for nothing: no script, no font, no picture from outside.
"""

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from estimator.documents import words
from estimator.drawings.svg import printable
from estimator.resources import read_text

if TYPE_CHECKING:
    from jinja2 import Environment
    from markupsafe import Markup


def render_page(template: str, context: Mapping[str, Any]) -> str:
    """The page of a template in `templates/`, ending in one line end."""
    text = _environment().get_template(template).render(context)
    return text.rstrip("\n") + "\n"


def _environment() -> "Environment":
    from jinja2 import Environment, FunctionLoader, StrictUndefined

    environment = Environment(
        loader=FunctionLoader(lambda name: read_text("templates", name)),
        autoescape=True,
        undefined=StrictUndefined,
        finalize=_clean,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.filters.update(
        number=words.number,
        metres=words.metres,
        percent=words.percent,
        stage=words.stage,
        merchant=words.merchant_words,
        css_string=css_string,
    )
    return environment


def _clean(value: Any) -> Any:
    """Plain text without what no page may hold; marked-up text is ours and stays as it is."""
    return printable(value) if type(value) is str else value


def css_string(text: str) -> "Markup":
    """A string of CSS that shows `text` and can hold nothing else: all but letters, digits and spaces as code points."""
    from markupsafe import Markup

    # Each escape ends in a space, which CSS takes as its end, so that a digit after it is not read as part of it.
    kept = (
        letter if letter.isascii() and (letter.isalnum() or letter == " ") else f"\\{ord(letter):x} "
        for letter in printable(text)
    )
    return Markup(f'"{"".join(kept)}"')
