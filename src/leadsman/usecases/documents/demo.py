"""JSON form of `leadsman demo`."""

from __future__ import annotations

from pydantic import Field

from leadsman.usecases.demo import DemoAnswer
from leadsman.usecases.documents.base import Document


class DemoDocument(Document):
    """Answer of `leadsman demo`."""

    schema_: str = Field(default="leadsman.demo/1", alias="schema", description="Name and version.")
    headline: str = Field(description="The answer in a sentence.")
    report: str = Field(description="The report as text.")
    files: tuple[str, ...] = Field(description="Names of the files written.")


def demo_document(answer: DemoAnswer) -> DemoDocument:
    """JSON form of a demo.

    Parameters
    ----------
    answer : DemoAnswer
        The answer [-].
    """
    return DemoDocument(
        headline=answer.headline,
        report=answer.report,
        files=tuple(path.name for path in answer.files),
    )
