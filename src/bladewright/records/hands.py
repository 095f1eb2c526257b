"""Whose hands did what: who may sign which proof, and that nobody looks last at their own work.

Where two persons are needed it holds both ways round: who looked last does no work on that blade afterwards.
"""

from typing import Final

from bladewright.errors import NotAuthorised
from bladewright.proof.verdict import BY_ANOTHER
from bladewright.records.acts import Act, Scope
from bladewright.records.ready import models

#: proof -> who signs it; a drawing may ask for others, and those are for whoever did or inspected the work
_SIGNED_BY: Final = {
    "surface treatment": (Scope.BOND,),
    "lay-up": (Scope.BOND,),
    "pressure": (Scope.CURE,),
    "void map": (Scope.INSPECT,),
    "final inspection": (Scope.LOOK_LAST,),
}
_OTHERWISE: Final = (Scope.MAKE, Scope.INSPECT)
#: acts that make a part, by the kind of their event
_MAKING: Final = ("blade started", "lot used", "cure filed")
#: signed records of work on the bond itself
_MADE_BY_HAND: Final = ("surface treatment", "lay-up")


def may_sign(proof: str) -> tuple[Scope, ...]:
    """Any one of these authorisations will do to sign this proof."""
    return _SIGNED_BY.get(proof, _OTHERWISE)


def makers_of(blade: models.Blade) -> frozenset[str]:
    """Everybody who made the part: opened it, built something in, cured it, treated its surfaces or laid it up."""
    own = models.Event.objects.filter(subject=blade.serial, kind__in=_MAKING).values_list("by", flat=True)
    cures = models.Evidence.objects.filter(blades__blade=blade, kind="cure")
    by_hand = models.Evidence.objects.filter(blades__blade=blade, kind="signed record", about__in=_MADE_BY_HAND)
    filed = (cures | by_hand).values_list("event__by", flat=True)
    return frozenset(own) | frozenset(filed)


def refuse_own_work(act: Act, blade: models.Blade, kind: str, about: str) -> None:
    """``NotAuthorised`` if this evidence would join the maker and the one who looks at the work in one person."""
    if kind == "signed record" and about in BY_ANOTHER and act.by in makers_of(blade):
        raise NotAuthorised(
            f"{act.by} made this blade",
            field="by",
            value=act.by,
            allowed=f'a person authorised for "{about}" who did not make {blade.serial}',
            fix="ask another person to look at it",
        )
    if kind == "cure" or (kind == "signed record" and about in _MADE_BY_HAND):
        refuse_work_after_looking(act, blade)


def refuse_work_after_looking(act: Act, blade: models.Blade) -> None:
    """``NotAuthorised`` if who would work on the blade has looked at it last, or accepted a finding of it."""
    looked = models.Evidence.objects.filter(
        blades__blade=blade, kind="signed record", about__in=BY_ANOTHER, event__by=act.by
    ).first()
    accepted = models.Deviation.objects.filter(blade=blade, event__by=act.by).first()
    if looked is None and accepted is None:
        return
    what = f"signed its {looked.about}" if looked else f"accepted its deviation {accepted.number if accepted else ''}"
    raise NotAuthorised(
        f"{act.by} {what}",
        field="by",
        value=act.by,
        allowed=f"a person who did not decide on {blade.serial}",
        fix="another person does the work, or another looks at the blade again",
    )
