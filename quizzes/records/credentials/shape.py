"""What a credential may hold: each property that our profile knows, and no other.

A property that nobody reads can still be shown to somebody, so an unknown one is refused even if it
is signed. The vocabularies allow much more; this is the part that the verifier understands.
"""

from collections.abc import Mapping
from typing import Annotated, Any, Literal, TypeVar

from pydantic import BaseModel, ConfigDict, Field, StringConstraints, ValidationError

from quizzes.records.credentials.contexts import OB_3, VC_2

Text = Annotated[str, StringConstraints(min_length=1, max_length=70_000)]
Short = Annotated[str, StringConstraints(min_length=1, max_length=400)]
Uri = Annotated[
    str,
    StringConstraints(pattern=r"^(urn:[a-z0-9-]+:|did:key:|https://)[^\s<>\"]+$", max_length=400),
]
Moment = Annotated[
    str, StringConstraints(pattern=r"^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d{1,6})?(Z|[+-]\d\d:\d\d)$")
]
Digits = Annotated[str, StringConstraints(pattern=r"^\d{1,9}$")]


class _Part(BaseModel):
    model_config = ConfigDict(extra="forbid", strict=True)


class _Proof(_Part):
    type: Literal["DataIntegrityProof"]
    cryptosuite: Literal["eddsa-jcs-2022", "eddsa-rdfc-2022"]
    created: Moment
    verification_method: Short = Field(alias="verificationMethod")
    proof_purpose: Literal["assertionMethod"] = Field(alias="proofPurpose")
    proof_value: Short = Field(alias="proofValue")
    context: list[str] | None = Field(default=None, alias="@context")


class _Profile(_Part):
    id: Uri
    type: list[Literal["Profile"]]
    name: Short | None = None
    description: Short | None = None


class _Criteria(_Part):
    narrative: Text


class _ResultDescription(_Part):
    id: Uri
    type: list[Literal["ResultDescription"]]
    name: Short
    result_type: Literal["Percent", "RawScore", "RubricCriterionLevel", "Status"] = Field(
        alias="resultType"
    )
    required_value: Short | None = Field(default=None, alias="requiredValue")
    value_min: Short | None = Field(default=None, alias="valueMin")
    value_max: Short | None = Field(default=None, alias="valueMax")


class _Achievement(_Part):
    id: Uri
    type: list[Literal["Achievement"]]
    achievement_type: Literal["Competency"] = Field(alias="achievementType")
    name: Short
    version: Short
    description: Text
    criteria: _Criteria
    result_description: list[_ResultDescription] = Field(alias="resultDescription", max_length=99)


class _Result(_Part):
    type: list[Literal["Result"]]
    result_description: Uri = Field(alias="resultDescription")
    value: Short | None = None
    status: Literal["Completed"] | None = None


class _Identity(_Part):
    type: Literal["IdentityObject"]
    hashed: Literal[False]
    identity_hash: Short = Field(alias="identityHash")
    identity_type: Literal["name"] = Field(alias="identityType")


class _Subject(_Part):
    id: Uri
    type: list[Literal["AchievementSubject"]]
    identifier: list[_Identity] | None = Field(default=None, max_length=1)
    source: _Profile | None = None
    achievement: _Achievement
    result: list[_Result] = Field(max_length=99)


class _Evidence(_Part):
    id: Uri | None = None
    type: list[Literal["Evidence"]]
    genre: Short | None = None
    name: Short
    narrative: Text


class _StatusEntry(_Part):
    type: Literal["BitstringStatusListEntry"]
    status_purpose: Literal["revocation"] = Field(alias="statusPurpose")
    status_list_index: Digits = Field(alias="statusListIndex")
    status_list_credential: Uri = Field(alias="statusListCredential")


class _House(_Part):
    id: Uri
    name: Short


class _Signed(_Part):
    context: list[str] = Field(alias="@context")
    id: Uri
    valid_from: Moment = Field(alias="validFrom")
    proof: list[_Proof] = Field(min_length=1, max_length=2)


class Credential(_Signed):
    """A competency record as a signed credential."""

    type: tuple[Literal["VerifiableCredential"], Literal["OpenBadgeCredential"]]
    name: Short
    issuer: _Profile
    valid_until: Moment = Field(alias="validUntil")
    awarded_date: Moment = Field(alias="awardedDate")
    credential_subject: _Subject = Field(alias="credentialSubject")
    credential_status: _StatusEntry | None = Field(default=None, alias="credentialStatus")
    evidence: list[_Evidence] = Field(max_length=99)


class _Bits(_Part):
    id: Uri
    type: Literal["BitstringStatusList"]
    status_purpose: Literal["revocation"] = Field(alias="statusPurpose")
    encoded_list: Annotated[
        str, StringConstraints(pattern=r"^u[A-Za-z0-9_-]+$", max_length=200_000)
    ] = Field(alias="encodedList")


class StatusList(_Signed):
    """A house's list of withdrawn credentials, as it stood at `validFrom`."""

    type: tuple[Literal["VerifiableCredential"], Literal["BitstringStatusListCredential"]]
    issuer: _House
    credential_subject: _Bits = Field(alias="credentialSubject")


Form = TypeVar("Form", bound=_Signed)


class ShapeError(ValueError):
    """A file is not a credential of the profile read here: where, and what is wrong."""


def shaped_credential(found: object) -> Credential:
    """Return a credential's parts, or refuse what our profile does not know."""
    return _shaped(Credential, found, [VC_2, OB_3], "credential")


def shaped_status_list(found: object) -> StatusList:
    """Return a status list's parts, or refuse what our profile does not know."""
    return _shaped(StatusList, found, [VC_2], "status list")


def _shaped(form: type[Form], found: object, context: list[str], what: str) -> Form:
    if not isinstance(found, Mapping):
        raise ShapeError(f"It is not a {what}: expected a JSON object.")
    if found.get("@context") != context:
        raise ShapeError(
            f"Its @context is not the one of a {what} of this kind. "
            f"Expected exactly: {', '.join(context)}."
        )
    try:
        return form.model_validate(_tupled(found))
    except ValidationError as error:
        raise ShapeError(f"It is not a {what} that this program reads: {_first(error)}.") from None


def _tupled(found: Mapping[str, Any]) -> dict[str, Any]:
    """Return the object with its types as a tuple, as the strict model wants them."""
    types = found.get("type")
    return {**found, "type": tuple(types) if isinstance(types, list) else types}


def _first(error: ValidationError) -> str:
    first = error.errors(include_url=False, include_context=False, include_input=False)[0]
    place = ".".join(str(part) for part in first["loc"]) or "its top"
    if first["type"] == "extra_forbidden":
        return f"{place:.120} is unknown to it"
    return f"{place:.120}: {first['msg'][:160]}"
