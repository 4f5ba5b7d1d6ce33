"""What `import docgen` offers to write: a packet, many packets, an approval; loaded when one of them is asked for.

As in `docgen/library.py`: a case folder in, a typed result out, UserError for whatever a user can mend.
"""

from __future__ import annotations

from collections.abc import Generator, Iterable
from datetime import date
from pathlib import Path

from docgen.criteria.payer import Payer
from docgen.errors import Problem, UserError, did_you_mean
from docgen.library import case_folder, payer_named, worded_by
from docgen.packet.approval import NotReady, approve, reviewed
from docgen.packet.assess import assess
from docgen.packet.contents import contents
from docgen.packet.letterhead import letterhead_files, read_letterhead
from docgen.packet.papers import OPTION, is_paper, read_papers
from docgen.packet.recipe import Recipe
from docgen.packet.render import FORMATS
from docgen.packet.reviewer import check_day
from docgen.packet.signed import record_signed
from docgen.packet.wording import document_names, languages, template_files
from docgen.packet.write import Outcome, Packet
from docgen.results import Approval

__all__ = ["Approval", "NotReady", "Outcome", "Packet", "approve_case", "build_packet", "build_packets"]


def build_packet(
    path: str | Path,
    out: str | Path,
    *,
    formats: Iterable[str] = (),
    only: Iterable[str] = (),
    payer: str | Path | Payer | None = None,
    templates: str | Path | None = None,
    letterhead: str | Path | None = None,
    enclose: Iterable[str] = (),
    langs: Iterable[str] = (),
    large_print: bool = True,
    deidentified: bool = False,
    force: bool = False,
) -> Packet:
    """Write the packet of one case into out/<id>; one with open points is a draft that shows them.

    formats, only  names of formats and documents; all when empty
    payer          id or file of a payer whose rules are asked instead of the case's
    templates      a folder of your own templates; `letterhead` one with letterhead.toml, letterhead.docx or both
    enclose        what packet.pdf holds besides cover, letter and order: names of documents, and papers of others as
                   "FILE.pdf" or "NAME=FILE.pdf", where NAME is order, encounter, supplier, home or any other
    langs          languages whose documents are written beside the English ones, such as es
    large_print    whether the sheets for daily use are written in large letters too
    deidentified   write a copy about nobody, for teaching, in a folder of its own; its `remarks` say what it is not
    force          build it even where the same stands already; `unchanged` of the result tells

    Raises UserError with every problem found; nothing is then written over what stands there. The first build of a
    case writes key.toml beside its case.toml.
    """
    begun = build_packets(
        [case_folder(path)],
        out,
        formats=formats,
        only=only,
        payer=payer,
        templates=templates,
        letterhead=letterhead,
        enclose=enclose,
        langs=langs,
        large_print=large_print,
        deidentified=deidentified,
        force=force,
    )
    (outcome,) = begun
    if outcome.packet is None:
        raise UserError(outcome.problems)
    return outcome.packet


def build_packets(
    folders: Iterable[str | Path],
    out: str | Path,
    *,
    formats: Iterable[str] = (),
    only: Iterable[str] = (),
    payer: str | Path | Payer | None = None,
    templates: str | Path | None = None,
    letterhead: str | Path | None = None,
    enclose: Iterable[str] = (),
    langs: Iterable[str] = (),
    large_print: bool = True,
    deidentified: bool = False,
    jobs: int = 1,
    cluster: str = "",
    force: bool = False,
) -> Generator[Outcome]:
    """The packets of many case folders, one outcome each in their order; a case that fails stops no other.

    jobs     processes that work at a time; 0 for one a core where there are more than a few cases. A script that asks
             for more than one needs the usual `if __name__ == "__main__":`
    cluster  address of a Dask scheduler that does the work instead; the cases go there, see README.md

    The rest as of `build_packet`. Raises UserError at once for what concerns all of them: names, templates,
    letterhead, payer, two cases of one id. Close the generator to stop early.
    """
    cases, target = [Path(folder) for folder in folders], Path(out)
    if deidentified and letterhead is not None:
        raise UserError([Problem("--letterhead", "names the clinic: leave out --letterhead or --deidentified")])
    # what starts processes is loaded for a build alone
    from docgen.packet.many import build_many, workers

    own_words, head = _path(templates), _path(letterhead)
    worded = worded_by(own_words)  # mistakes in it, and in the letterhead, are told before any work is done
    if head:
        read_letterhead(head)
    enclose = [enclose] if isinstance(enclose, str) else [*enclose]
    named = [word for word in enclose if is_paper(word)]
    if named and (refusal := _keeps_papers_out(len(cases), deidentified, cluster)):
        raise UserError([Problem(f"{OPTION} {named[0]}", *refusal)])
    recipe = Recipe(
        _known("--formats", formats, FORMATS) or FORMATS,
        _known("--only", only, document_names()),
        _known(OPTION, [word for word in enclose if word not in named], document_names()),
        read_papers(named, worded.words["enclosed_papers"]),
        _known("--lang", langs, languages()),
        large_print,
        payer_named(payer),
        contents(own_words, template_files(own_words)) if own_words else None,
        contents(head, letterhead_files(head)) if head else None,
        deidentified,
    )
    return build_many(cases, recipe, target, workers(recipe, target, len(cases), jobs, cluster), force)


def _keeps_papers_out(n_cases: int, deidentified: bool, cluster: str) -> tuple[str, str] | None:
    """Why a paper of one person cannot go into this build, and what to do; None where it can."""
    if n_cases != 1:
        return f"is a paper of one person, and this build is of {n_cases} cases", "Build that person's case alone."
    if deidentified:
        return "is a paper of one person and goes into no de-identified copy", "Leave it or --deidentified out."
    if cluster:
        return "is a paper of one person and is sent to no cluster", "Build this case without --cluster."
    return None


def approve_case(
    path: str | Path,
    by: str,
    on: date | None = None,
    *,
    payer: str | Path | Payer | None = None,
    templates: str | Path | None = None,
    letterhead: str | Path | None = None,
    signed_letter: str | Path | None = None,
    out: str | Path = "out",
) -> Approval:
    """Record beside the case that a clinician has reviewed exactly this content. It is no signature.

    by  "Name, credential"; `on` is the day of the review, the day it is when None
    signed_letter  a PDF in the case folder: nothing is approved anew, but it is recorded as the scan of the approved
                   letter in out/<id>, signed; each build then puts it into the letter's place in packet.pdf
    The rest as of `build_packet`; a packet that is built with another letterhead than this one is a draft.

    Raises NotReady when points are open that block, and UserError when `by` cannot have reviewed it, when the day is
    none of a review, or for any problem found in the case.
    """
    today = date.today()
    on, worded, head = on or today, worded_by(templates), _path(letterhead)
    letter = read_letterhead(head) if head else None
    check_day(on, today)
    assessed = assess(case_folder(path), payer_named(payer))
    if signed_letter is not None:
        review = reviewed(assessed, worded, letter)
        record, review = record_signed(assessed.file.folder, Path(signed_letter), Path(out), review, by)
        return Approval(record, review.by, review.on)
    record, remark = approve(assessed, by, on, worded, letter)
    return Approval(record, by, on, remark)


def _path(given: str | Path | None) -> Path | None:
    return None if given is None else Path(given)


def _known(option: str, names: Iterable[str], allowed: tuple[str, ...]) -> tuple[str, ...]:
    """The names, each once. Raises UserError for one that is not allowed."""
    if isinstance(names, str):
        names = [names]
    wanted = tuple(dict.fromkeys(names))
    if unknown := [name for name in wanted if name not in allowed]:
        raise UserError(Problem(option, f"'{name}' is not known", did_you_mean(name, allowed)) for name in unknown)
    return wanted
