"""JSON form of `leadsman warmup`."""

from __future__ import annotations

from pydantic import Field

from leadsman.usecases.documents.base import Document
from leadsman.usecases.warmup import WarmupAnswer


class KernelForm(Document):
    """One part of the physics that was made ready."""

    name: str = Field(description="What it computes.")
    time_s: float = Field(description="Time to compile or load it [s].")


class WarmupDocument(Document):
    """Answer of `leadsman warmup`."""

    schema_: str = Field(
        default="leadsman.warmup/1", alias="schema", description="Name and version."
    )
    headline: str = Field(description="The answer in a sentence.")
    kernels: tuple[KernelForm, ...] = Field(description="Parts in the order they were made ready.")


def warmup_document(answer: WarmupAnswer) -> WarmupDocument:
    """JSON form of a warm-up.

    Parameters
    ----------
    answer : WarmupAnswer
        The answer [-].
    """
    return WarmupDocument(
        headline=answer.headline,
        kernels=tuple(KernelForm(name=name, time_s=spent) for name, spent in answer.seconds),
    )
