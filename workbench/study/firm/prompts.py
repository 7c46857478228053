"""What some places publish for written agreements about work on a home: context for the clauses.

No list of what holds where: laws change and differ from place to place. Each prompt names the place
and where it was read; what was read in a copy or is from memory says so.
"""

from __future__ import annotations

from dataclasses import dataclass

from workbench.words import tr


@dataclass(frozen=True, slots=True)
class Prompt:
    """One published rule, or common practice where ``place`` is empty."""

    place: str
    says: str
    source: str

    @property
    def text(self) -> str:
        """In one line, with its source."""
        if not self.place:
            return tr("{says} ({source})", says=self.says, source=self.source)
        return tr(
            "{place}: {says} ({source})", place=self.place, says=self.says, source=self.source
        )


def caution() -> str:
    """What must stand beside every list of prompts."""
    return tr(
        "What some places publish for written agreements about work on a home is told beside each"
        " text as context. It is no legal advice and no list of what holds where you work: ask"
        " there."
    )


def prompts() -> dict[str, tuple[Prompt, ...]]:
    """The prompts by the entry of the job to which they belong."""
    return _texts() | _money() | _ends()


def _texts() -> dict[str, tuple[Prompt, ...]]:
    place, law = tr("Massachusetts"), _massachusetts()
    return {
        "scope": (
            Prompt(place, tr("Over $1,000: in writing, with a detailed description of the work and"
                             " the materials, and the total price."), law),
            Prompt(tr("Cincinnati"), tr("Over $500: in writing, with a description and no"
                                        " blanks."), _cincinnati()),
        ),
        "firm_licence": (
            Prompt(place, tr("Names, addresses and the contractor's registration number."), law),
            Prompt(_new_york(), tr("The licence number."), _unverified()),
        ),
        "permit": (
            Prompt(tr("Cincinnati"), tr("The contractor gets the permits."), _cincinnati()),
            Prompt(_new_york(), tr("Who gets the permits."), _unverified()),
        ),
        "clause_assumptions": (
            Prompt("", tr("The measured flow, the water level and the way to the tank, each with"
                          " its date."), _practice()),
        ),
        "clause_exclusions": (
            Prompt("", tr("Yield and quality of the well, pipe that cannot be seen, the pump's"
                          " condition, landscaping."), _practice()),
            Prompt(_new_york(), tr("Who cleans up."), _unverified()),
        ),
    }  # fmt: skip


def _money() -> dict[str, tuple[Prompt, ...]]:
    return {
        "clause_allowances": (
            Prompt("", tr("A rate for each unknown: pulling the pump by the foot, a rusted nipple,"
                          " a patch in a wall."), _practice()),
            Prompt(tr("California"), tr("Over $500: changes in writing, before they are made."),
                   _california()),
        ),
        "clause_payment": (
            Prompt(tr("Massachusetts"), tr(
                "A deposit of at most one third of the price, or the cost of what is ordered"
                " specially if that is more; each payment in dollars."), _massachusetts()),
            Prompt(tr("Cincinnati"), tr(
                "A deposit of at most 10 %, besides special orders; payments tied to the"
                " progress."), _cincinnati()),
            Prompt(tr("California"), tr(
                "A deposit of at most $1,000 or 10 %, whichever is less."), _california()),
        ),
    }  # fmt: skip


def _ends() -> dict[str, tuple[Prompt, ...]]:
    return {
        "clause_schedule": (
            Prompt(tr("Massachusetts"), tr(
                "The dates on which the work is to begin and to be substantially complete."),
                _massachusetts()),
            Prompt(tr("Cincinnati"), tr("The dates of the work."), _cincinnati()),
        ),
        "clause_warranty": (
            Prompt(tr("Cincinnati"), tr(
                "A guarantee of the workmanship; the makers' warranties are handed over when"
                " asked for."), _cincinnati()),
            Prompt(_new_york(), tr("Guarantees in writing."), _unverified()),
        ),
        "clause_acceptance": (
            Prompt(tr("Massachusetts"), tr(
                "The signatures of all parties, and a notice that the owner may cancel within"
                " three business days."), _massachusetts()),
            Prompt(tr("United States"), tr(
                "What is sold at the buyer's home may usually be cancelled within three business"
                " days."), tr("Cooling-Off Rule, 16 CFR Part 429, from memory")),
            Prompt(_new_york(), tr("The right to cancel, and the words about liens."),
                   _unverified()),
        ),
    }  # fmt: skip


def _massachusetts() -> str:
    return tr("General Laws, chapter 142A, section 2, read in a copy; the Attorney General's page"
              " “Signing a contract”")  # fmt: skip


def _cincinnati() -> str:
    return tr("Municipal Code, 891-3")


def _california() -> str:
    return tr("Business and Professions Code, 7159 and 7159.5, read in secondary copies")


def _new_york() -> str:
    return tr("New York")


def _unverified() -> str:
    return tr("a consumer page whose publisher could not be verified")


def _practice() -> str:
    return tr("common practice, no source")
