"""Documents for an alternative drive control on a power wheelchair, from one recorded case.

    import docgen

    docgen.check_case("cases/robin-example").ready
    docgen.build_packet("cases/robin-example", "out").folder

What stands here is loaded when it is first used; `docgen/library.py` and `docgen/building.py` say what each function
takes, gives and raises.
"""

from typing import TYPE_CHECKING

__version__ = "0.3.0"

__all__ = [
    "Approval",
    "CaseCheck",
    "CaseEvidence",
    "CaseFit",
    "CaseMatch",
    "CaseTrial",
    "NotReady",
    "Outcome",
    "Packet",
    "Problem",
    "UserError",
    "approve_case",
    "build_packet",
    "build_packets",
    "check_case",
    "evidence_of",
    "fit_of",
    "match_of",
    "trial_of",
]

if TYPE_CHECKING:
    from docgen.building import Approval, NotReady, Outcome, Packet, approve_case, build_packet, build_packets
    from docgen.library import (
        CaseCheck,
        CaseEvidence,
        CaseFit,
        CaseMatch,
        CaseTrial,
        Problem,
        UserError,
        check_case,
        evidence_of,
        fit_of,
        match_of,
        trial_of,
    )
else:

    def __getattr__(name: str) -> object:
        if name not in __all__:
            raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
        from importlib import import_module

        modules = (import_module(f"docgen.{module}") for module in ("library", "building"))
        return next(getattr(module, name) for module in modules if name in module.__all__)

    def __dir__() -> list[str]:
        return sorted({*globals(), *__all__})
