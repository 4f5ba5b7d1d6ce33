"""What `docgen check` prints: one report a case, as JSON for programs and as a page for people, and the caseload."""

from docgen.findings.page import caseload, caseload_row, findings_text, rules_text
from docgen.findings.report import findings

__all__ = ["caseload", "caseload_row", "findings", "findings_text", "rules_text"]
