"""A record typed and signed at the desk: the same file, the same service, the same rules as one written by hand."""

import datetime
from collections.abc import Sequence
from dataclasses import dataclass

from bladewright.errors import BadInput
from bladewright.evidence.signed_record import signed_record_bytes
from bladewright.proof.signed import CLOSED
from bladewright.proof.verdict import FROM_MEASUREMENT
from bladewright.records import evidence
from bladewright.records.acts import Act, Scope
from bladewright.records.blades import blade_named
from bladewright.records.drawings import read_filed as read_drawing
from bladewright.records.evidence import EvidenceFiled
from bladewright.records.hands import may_sign
from bladewright.records.holding import Handed


@dataclass(frozen=True, slots=True)
class Signature:
    """What a person vouches for."""

    proof: str
    result: str  # "conforms" or "does not conform"
    statement: str
    signed_on: datetime.date
    details: str = ""  # lines, each a name, a colon and what it is


def sign_here(act: Act, serial: str, signed: Signature) -> EvidenceFiled:
    """File what the acting person signs for."""
    if signed.proof in FROM_MEASUREMENT:
        raise BadInput(
            "is judged from what was measured, not from a signature",
            field="proof",
            value=signed.proof,
            allowed=", ".join(signable(serial)),
            fix="file the measurement",
        )
    data = signed_record_bytes(
        serial=serial,
        proof=signed.proof,
        result=signed.result,
        statement=signed.statement,
        signed_by=act.by,
        signed_on=signed.signed_on,
        details=_details(signed.details),
    )
    return evidence.file_ready(act, evidence.signed_ready(act, Handed(f"{serial} {signed.proof}.toml", data)))


def signable(serial: str, scopes: frozenset[Scope] | None = None) -> tuple[str, ...]:
    """The drawing's proofs that are signed for; with scopes, those that one of them is enough for."""
    required = read_drawing(blade_named(serial).drawing).required_proofs
    return signable_of((*required, CLOSED), scopes)


def signable_of(required: Sequence[str], scopes: frozenset[Scope] | None = None) -> tuple[str, ...]:
    """Of these proofs, those that are signed for."""
    found = (proof for proof in required if proof not in FROM_MEASUREMENT)
    return tuple(proof for proof in found if scopes is None or scopes.intersection(may_sign(proof)))


def _details(lines: str) -> dict[str, str]:
    found: dict[str, str] = {}
    for line in lines.splitlines():
        if not line.strip():
            continue
        name, colon, text = (part.strip() for part in line.partition(":"))
        if not colon or not name or not text or name in found:
            raise BadInput(
                "is named twice" if name in found else "is not a particular",
                field="details",
                value=line,
                allowed="a name, a colon and what it is, each name once, like batch: 14",
                fix="write one a line",
            )
        found[name] = text
    return found
