"""What every block of a concept file has in common."""

from __future__ import annotations

from typing import Any, ClassVar

from pydantic import BaseModel, ConfigDict, ValidationError, model_validator

from wetmass.record.refusal import Complaint, Refusal


class Block(BaseModel):
    """A block of keys: frozen, and a key it does not know is refused.

    called     what a message calls it; by the name of its class where nothing is said
    needs_too  keys that it cannot well do without, beside those it must have: a message proposes them
    """

    called: ClassVar[str] = ""
    needs_too: ClassVar[tuple[str, ...]] = ()

    model_config = ConfigDict(
        frozen=True,
        extra="forbid",
        alias_generator=lambda name: name.replace("_", " "),
        validate_default=False,
        arbitrary_types_allowed=True,
        defer_build=True,
    )


class Gathered(ValueError):
    """What the keys of a block say together, with what is wrong in its values."""

    def __init__(self, refusal: Refusal, error: ValidationError) -> None:
        self.refusal, self.error = refusal, error
        super().__init__(str(refusal))


class Judged(Block):
    """A block whose keys are judged together before its values, so that both kinds of errors are told."""

    @classmethod
    def judge(cls, data: dict[str, Any]) -> tuple[list[Complaint], dict[str, Any]]:
        """Complaints about keys that do not go together, and the data with what is understood."""
        raise NotImplementedError

    @model_validator(mode="wrap")
    @classmethod
    def _keys_and_values(cls, data: Any, handler: Any) -> Any:
        if not isinstance(data, dict):
            return handler(data)
        complaints, data = cls.judge(data)
        try:
            block = handler(data)
        except ValidationError as error:
            if complaints:
                raise Gathered(Refusal(*complaints), error) from None
            raise
        complain(*complaints)
        return block


def complain(*complaints: Complaint | None) -> None:
    """Raise a Refusal of all complaints there are."""
    found = [complaint for complaint in complaints if complaint]
    if found:
        raise Refusal(*found)
