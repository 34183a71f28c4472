"""People from outside: there only while they are, and never before they have found their feet."""

from __future__ import annotations

from datetime import timedelta
from typing import Final

from scheduler.check.findings import Ledger
from scheduler.check.scene import Scene, Stay
from scheduler.check.span import NOTHING, stamp
from scheduler.domain.crew import Visitor
from scheduler.domain.plan import PlannedPhase

RULE: Final = "visitors"
AFTER_BOARDING: Final = timedelta(minutes=60)  # common practice, no source


def look(scene: Scene, ledger: Ledger) -> None:
    """Every visitor that an entry needs comes to every session."""
    known = {visitor.visitor: visitor for visitor in scene.folder.visitors}
    for stay in scene.stays:
        for name in stay.entry.needs:
            visitor = known.get(name)
            text = f"{stay.name} needs {name}, who is not on the list of visitors."
            if ledger.expect(RULE, visitor is not None, text, entry=stay.name, person=name) and visitor:
                for session in stay.inside:
                    _there(stay, visitor, session, ledger)
                    _told(scene, stay, visitor, session, ledger)


def _there(stay: Stay, visitor: Visitor, session: PlannedPhase, ledger: Ledger) -> None:
    """A chemist need not stay: no session before his certificate, which takes him an hour aboard at least."""
    begins = visitor.from_ + AFTER_BOARDING
    early = begins - session.start
    name = f"session {session.session} of {stay.name}"
    text = f"{name} begins at {stamp(session.start)}; {visitor.visitor} is ready at {stamp(begins)}."
    _expect(ledger, stay, visitor, session, early <= NOTHING, text, early)
    if visitor.role != "chemist":
        late = session.end - visitor.until
        text = f"{name} ends at {stamp(session.end)}; {visitor.visitor} leaves at {stamp(visitor.until)}."
        _expect(ledger, stay, visitor, session, late <= NOTHING, text, late)


def _told(scene: Scene, stay: Stay, visitor: Visitor, session: PlannedPhase, ledger: Ledger) -> None:
    listed = any(
        (attends.visitor, attends.entry, attends.session) == (visitor.visitor, stay.name, session.session)
        for attends in scene.plan.visitors
    )
    text = f"the plan does not say that {visitor.visitor} comes to session {session.session} of {stay.name}."
    _expect(ledger, stay, visitor, session, listed, text, None)


def _expect(
    ledger: Ledger, stay: Stay, visitor: Visitor, session: PlannedPhase, holds: bool, text: str, by: timedelta | None
) -> None:
    ledger.expect(
        RULE, holds, text, entry=stay.name, person=visitor.visitor, start=session.start, end=session.end, by=by
    )
