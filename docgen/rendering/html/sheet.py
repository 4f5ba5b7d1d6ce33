"""The style sheet inside every HTML document: screen down to 320 pixels, and paper."""

from __future__ import annotations

from docgen.rendering.columns import SIDE_PADDING
from docgen.rendering.labels import Labels
from docgen.rendering.page import Page
from docgen.rendering.style import Shade, Style, TextStyle
from docgen.scene import PANELS_APART_PT

_FAMILY = 'Arial, Helvetica, "Liberation Sans", Arimo, sans-serif'
_PAPER = {"letter": "letter", "a4": "A4"}


# a drawing and a letterhead keep their white paper
_DARK = """@media screen and (prefers-color-scheme:dark){
:root{color-scheme:dark;color:#f2f2f2;background:#151515}
header,header p{color:#d5d5d5;border-color:#8c8c8c}
header .status{color:#f2f2f2;border-color:#f2f2f2}
.jumps{background:#151515}
table,th,td,.signature p,.scroll:focus-visible{border-color:#c8c8c8;outline-color:#f2f2f2}
.callout{background:#272727;border-color:#8c8c8c;border-inline-start-color:#f2f2f2}
.gap{color:#fff;background:#4a4a4a}
tr[class] td{background:#272727}
li.tick>input{border-color:#f2f2f2}
li.tick>input:checked::after{color:#f2f2f2}
svg,.letterhead{background:#fff;color:#000}
}
"""


def sheet(page: Page, style: Style, labels: Labels) -> str:
    """CSS of one document. Sizes are relative on the screen, so the reader's own text size rules."""
    headings = "".join(
        f"h{level}{{{_role(style.headings[min(level, len(style.headings)) - 1], style)};break-after:avoid}}\n"
        for level in range(1, 7)
    )
    tones = "".join(f".{tone}{{border-inline-start-width:{bar}pt}}\n" for tone, bar in style.callout_bar.items())
    rows = "".join(
        f"tr.row-{role} td{{background:{_hex(fill)};print-color-adjust:exact}}\n"
        for role, fill in style.row_fill.items()
    )
    grey, fill = _hex(style.rule_shade), _hex(style.callout_fill)
    heavy, light, pad = style.rule_heavy, style.rule_light, style.cell_padding
    side = pad + SIDE_PADDING
    return f"""
:root{{color-scheme:light;font:100%/{style.body.leading / style.body.size:.3g} {_FAMILY};
 color:#000;background:#fff}}
*{{box-sizing:border-box}}
body{{margin:0 auto;max-width:46rem;padding:1rem;overflow-wrap:break-word}}
header{{{_role(style.furniture, style)};border-bottom:{light}pt solid {grey};
 display:flex;flex-wrap:wrap;gap:0 1rem;justify-content:space-between}}
header p{{margin:0 0 .4rem;font-size:inherit}}
header .status{{flex-basis:100%;font-weight:bold;color:#000;font-size:1rem;border:1pt solid #000;
 padding:.3rem .6rem}}
main{{margin-top:1rem}}
{headings}p{{{_role(style.body, style)}}}
ul,ol{{margin:0 0 .4rem;padding-inline-start:1.5em}}
li{{{_role(style.item, style)}}}
li>p,li>ul,li>ol{{margin:.2em 0}}
li.tick{{list-style:none}}
li.tick>input{{appearance:none;float:inline-start;width:.85em;height:.85em;margin-block:.25em 0;margin-inline:-1.4em 0;
 border:1px solid #000;font:inherit;line-height:.75em}}
li.tick>input:checked::after{{content:"\\2713";color:#000}}
.scroll{{overflow-x:auto;padding-bottom:1px}}
.scroll:focus-visible{{outline:2px solid #000;outline-offset:2px}}
.wide{{width:100%}}
table{{border-collapse:collapse;border:solid #000;border-width:{heavy}pt 0;font-variant-numeric:tabular-nums}}
caption{{text-align:start;caption-side:top}}
caption,figcaption{{{_role(style.caption, style)}}}
th,td{{{_role(style.cell, style)};padding:{pad}pt {side:g}pt;text-align:start;vertical-align:top}}
th{{font-weight:bold;border-bottom:{(heavy + light) / 2}pt solid #000}}
td,tbody th{{border-top:{light}pt solid {grey}}}
tbody th{{font-weight:normal;border-bottom:0}}
{rows}.right{{text-align:end}}
.center{{text-align:center}}
.long{{overflow-wrap:anywhere}}
.scroll,figure,.callout{{margin:.6rem 0}}
figure>.scroll{{margin:0}}
svg{{display:block;height:auto}}
.panels,.panels>div{{display:flex;flex-wrap:wrap;align-items:flex-start;gap:{PANELS_APART_PT}pt}}
.panels svg{{max-width:100%;flex:none}}
.callout{{padding:.5rem .8rem;background:{fill};border:{light}pt solid {grey};border-inline-start-color:#000;
 print-color-adjust:exact}}
.callout>:first-child{{margin-top:0}}
.callout>:last-child{{margin-bottom:0}}
{tones}.gap{{font-weight:bold;color:#000;background:{_hex(style.gap_fill)};padding:0 .15em;
 print-color-adjust:exact}}
a{{color:inherit;text-decoration:underline}}
a[href^="tel:"]{{white-space:nowrap}}
hr{{border:0;border-top:{light}pt solid {grey};margin:.8rem 0}}
.signature{{display:flex;gap:1.5rem;margin:3rem 0 1rem;max-width:36rem;break-inside:avoid}}
.signature p{{{_role(style.cell, style)};flex:1 1 7rem;border-top:{heavy}pt solid #000;padding-top:.2rem}}
.signature p:first-child{{flex:2 1 14rem}}
p:has(+.signature){{break-after:avoid}}
.jumps{{position:sticky;top:0;z-index:1;background:#fff;display:flex;flex-wrap:wrap;gap:.2rem 1.2rem;
 border-bottom:{light}pt solid {grey}}}
.jumps a{{font-weight:bold;padding:.45rem 0}}
.jumps~main :is(h1,h2,h3){{scroll-margin-top:6rem}}
{_letterhead(page, style)}@media (max-width:26rem){{
th,td{{padding-inline:1pt;hyphens:auto}}
}}
{_DARK}@media print{{
:root{{font-size:{style.body.size}pt}}
body{{max-width:none;padding:0}}
header{{border:0}}
.running,.jumps{{display:none}}
main{{margin-top:0}}
.scroll{{overflow:visible}}
svg{{max-width:100%}}
p,li{{orphans:2;widows:2}}
thead{{display:table-header-group}}
tr,figure,.callout{{break-inside:avoid}}
.page-break{{break-before:page}}
}}
{_paper(page, style, labels)}"""


def _letterhead(page: Page, style: Style) -> str:
    """Rules for a clinic's letterhead; none without one."""
    if not page.letterhead or not page.letterhead.name:
        return ""
    accent = _hex(page.letterhead.accent)
    return (
        ".letterhead{display:flex;flex-wrap:wrap;gap:.4rem "
        ".9rem;align-items:flex-end;margin-bottom:.8rem;padding-bottom:.3rem;"
        f"border-bottom:{style.rule_heavy}pt solid {accent};print-color-adjust:exact}}\n"
        f".clinic{{{_role(style.clinic, style)};color:{accent}}}\n.contact{{{_role(style.contact, style)}}}\n"
        ".letterhead img{max-width:100%;height:auto}\n"
    )


def _paper(page: Page, style: Style, labels: Labels) -> str:
    """Running head and page numbers, in browsers that print margin boxes; the status is also in the text."""
    of = f"{_string(labels.page + ' ')} counter(page) {_string(f' {labels.of} ')} counter(pages)"
    words = f"font:{style.furniture.size}pt {_FAMILY};color:{_hex(style.furniture.shade)}"
    return f"""@page{{size:{_PAPER[page.paper]};
 margin:{style.margin_top}pt {style.margin_side}pt {style.margin_bottom}pt;
 @top-left{{content:{_string(page.running_head)};{words}}}
 @top-center{{content:{_string(page.status)};{words};font-weight:bold;color:#000}}
 @top-right{{content:{_string(page.day(labels))};{words}}}
 @bottom-right{{content:{of};{words}}}
}}"""


def _role(role: TextStyle, style: Style) -> str:
    """Declarations of one role of text, in units of the reader's own text size."""
    parts = [
        f"font-size:{role.size / style.body.size:.3g}rem",
        f"line-height:{role.leading / role.size:.3g}",
        f"margin:{role.before / role.size:.3g}em 0 {role.after / role.size:.3g}em",
    ]
    if role.bold:
        parts.append("font-weight:bold")
    if role.italic:
        parts.append("font-style:italic")
    if role.shade:
        parts.append(f"color:{_hex(role.shade)}")
    return ";".join(parts)


def _hex(shade: Shade) -> str:
    parts = shade if isinstance(shade, tuple) else (shade,) * 3
    return "#" + "".join(f"{round(part * 255):02x}" for part in parts)


def _string(text: str) -> str:
    """A quoted CSS string in which no character of the text can end the string or the sheet."""
    safe = (char if char.isalnum() or char == " " else f"\\{ord(char):x} " for char in text)
    return f'"{"".join(safe)}"'
