"""Proofs the program does not compute: a named person signed for each, and what they signed is taken as it stands."""

from bladewright.evidence.records import SignedRecord
from bladewright.figures import Finding, Outcome, Where
from bladewright.proof.wording import ruled

#: "does not conform" on these is beyond anybody's deviation: expired adhesive, and a bond no inspection can measure
NOT_DEVIABLE = frozenset({"adhesive out-time", "surface treatment"})

#: signed when a rejected blade was mutilated before a witness: nothing is left to do for its serial
CLOSED = "serial closed"


def judge_signed(record: SignedRecord) -> Finding:
    """What the signed record says of its proof."""
    conforms = record.result == "conforms"
    return ruled(
        rule=f"signed record: {record.proof}",
        outcome=Outcome.PASS if conforms else Outcome.FAIL,
        sentence=f"{record.signed_by} signed on {record.signed_on.isoformat()}: {record.result}. {record.statement}",
        proof=record.proof,
        limit="conforms",
        limit_source="the drawing's required proofs",
        where=(Where(record.source.file, "", None, record.signed_on.isoformat()),),
        deviable=record.proof not in NOT_DEVIABLE,
        next_step="Reject the blade, or ask a person with design authority for a deviation."
        if record.proof not in NOT_DEVIABLE
        else "Reject the blade and find every other one of the same batch.",
    )
