"""Each English text of the pages for family and aides, and of the demo cases, beside its Spanish one: what forbids,
limits or orders in the one does so in the other, numbers of a case are kept, and a term of safety has one Spanish term.

Words beside each other as an interpreter's glossary has them; common practice, no source. Whether a sentence is right
no table tells: that is for the qualified translator who signs what test_spanish_by_block pairs.
"""

from __future__ import annotations

import re
import tomllib

import pytest
from support import DEMO_FOLDERS

from docgen.languages.checks import TAG
from docgen.languages.texts import texts, translations_in

# a word of the English -> the words of which its Spanish must have one
LIMITS = {
    "never": "nunca",
    "nobody|no one": "nadie",
    "nothing": "nada",
    "not|no|none|cannot|without|never|nobody|nothing|neither": "no|nunca|nadie|nada|ning[uú]n[oa]?|sin|ni|fuera",
    "only": "sol[oa]|solos|únic[oa]s?|únicamente",
    "always": "siempre",
    "all|everyone|whoever": "tod[oa]s?|cualquiera|quien|quienes",
    "each|every": "cada|tod[oa]s?|ning[uú]n",
    "both": "dos|ambos",
    "until": "hasta",
    "first": "primer[oa]?s?|antes",
    "before": "antes",
    "to (?:the|her|his|your) left|left of|left side|left lever": "izquierd[oa]",
    "to (?:the|her|his|your) right|right side": "derech[oa]|derecha",
    "at once": "enseguida|inmediato|ya|cuanto|vez",
}
SAYS_NO_LIMIT = re.compile(r"(?i)\b(?:at all|all the (?:same|way)|all around|all right|not sure|whoever set it)\b")
# said with another word that limits as much: a piece of the Spanish
IN_OTHER_WORDS = (
    "Lo que llevaba puesto en la revisión",  # each of the gaps: what fits and what does not
    "En cada espacio pruebe lo que debe caber y lo que no debe caber",
    "es menos probable, pero puede pasar",
    "valen más que esta guía",
    "Espere:  …   … . Solo entonces",
    "en casa, con alguien",
    "cuál tarea está puesta",
    "cero",
    "Paso",
)
# a term of the English -> its one Spanish term; what is not a letter may stand between the words
TERMS = {
    r"driver's (?:own )?stop": r"paro de|con que quien maneja para",
    r"(?<!driver's )stop switch": r"(?:bot[oó]n(?:es)?|barra) de paro",
    r"power switch": r"interruptor de encendido",
    r"brake release lever": r"palancas? (?:que quitan los frenos|\(C\))",
    r"stop test": r"prueba de paro",
    r"emergency page(?!$)": r"hoja de emergencia",  # the head of the page is shorter
    r"weight shift|shift (?:the )?weight": r"(?:cambi\w+|tras un cambio) (?:de|el) peso",
    r"trained (?:helper|person|classroom)": r"capacitad",
    r"helpers? is shown|list of people shown": r"ayudantes capacitados",
    r"supplier": r"proveedor",
    r"therapist": r"terapeuta|terapia",
    r"(?<!\{)\bgaps?\b": r"espacio",
    r"\bmarks?\b(?! meet$| apart$)": r"marca",
    r"\b(?:in|into|for) rest\b|Rest and wake|Use rest": r"descanso",
    r"seizure": r"convulsi",
    r"spasm": r"espasmo",
    r"mouthpiece": r"boquilla",
    r"joystick": r"joystick",
    r"tie-down": r"amarre",
    r"nurse line": r"línea de enfermería",
    r"your row": r"renglón",
    r"shuts? off driving|locks out driving|drive is locked|driving is off": (
        r"no (?:deja|se deja|maneja|se maneja|se pued[ae] manejar|puede andar)"
    ),
    r"blood pressure": r"presión",
    r"on the cuff": r"presión|número de arriba",
    r"smoke or fire": r"humo o fuego",
    r"level ground": r"piso plano",
    r"crash-tested": r"choques",
    r"chest strap": r"correa del pecho",
}
# what a reader took for something else: a stop that may be one of the heart, someone left alone, a row that is a phone
# line, a tube to take off, an order to drive on
NEVER = (
    r"(?i)(?<!botón de )(?<!botones de )(?<!prueba de )(?<!barra de )(?<!negra de )(?<!perilla de )\bparo\b(?! de )",
    r"\bPalancas de las ruedas",
    r"\banda(?:r|n)?\b|anduvo",
    r"[Nn]o manejen",
    r"intente manejar",
    r"lecciones",
    r"marcha está bloqueada",
    r"(?i)a solas: (?:llame|enfermería|línea)",
    r"(?i)quite [^.]*(?:cables|tubos)",
    r"Subir y bajar",
    r"(?i)llene una línea|dice su línea",
    r"no contesta(?=\")",
)

SPANISH = translations_in("es")
OF_PAGES = [
    (text.file, TAG.sub(" … ", text.english), TAG.sub(" … ", spanish))
    for text in texts()
    if text.file != "count.toml" and (spanish := SPANISH.get((text.file, text.english)))
]
OF_CASES = [
    (folder.name, english, spanish)
    for folder in DEMO_FOLDERS
    if (folder / "es.toml").is_file()
    for english, spanish in tomllib.loads((folder / "es.toml").read_text(encoding="utf-8")).items()
]
PAIRS = [*OF_PAGES, *OF_CASES]


def lost(english, spanish, table):
    """What of the table the English has and the Spanish has not."""
    said = SAYS_NO_LIMIT.sub(" ", english)
    for word, ways in table.items():
        if re.search(rf"(?i)\b(?:{word})\b", said) and not re.search(rf"(?i)\b(?:{ways})\b", spanish):
            yield word


def test_there_are_texts_of_every_sheet_and_of_four_cases():
    assert {name for name, *_ in OF_PAGES} >= {"card.md", "guide.md", "emergency.md", "log.md", "words.toml"}
    assert len(OF_PAGES) > 700 and len({name for name, *_ in OF_CASES}) == 4


def test_what_forbids_or_limits_in_english_does_so_in_spanish():
    wrong = [
        (where, word, english, spanish)
        for where, english, spanish in PAIRS
        if not any(way in spanish for way in IN_OTHER_WORDS)
        for word in lost(english, spanish, LIMITS)
    ]
    assert wrong == []


def test_a_word_that_limits_is_missed_where_it_is_lost():
    english = "Never use it on a slope. Only the aide, and only with both levers set."
    assert [*lost(english, "No se usa en una cuesta. La ayudante, con las palancas.", LIMITS)] == [
        "never",
        "only",
        "both",
    ]
    assert not [*lost(english, "Nunca se usa en una cuesta. Solo la ayudante, con las dos palancas.", LIMITS)]


def test_the_numbers_of_a_case_stand_in_its_spanish():
    def numbers(text):
        return sorted(re.findall(r"\d+(?:[.,:/-]\d+)*", re.sub(r"(\d) 1/2|(\d) 3/8", r"\1\2", text)))

    assert [(e, s) for _, e, s in OF_CASES if numbers(e) != numbers(s)] == []


def test_a_term_of_safety_has_one_spanish_term():
    wrong = [
        (where, term, english, spanish)
        for where, english, spanish in PAIRS
        for term, own in TERMS.items()
        if re.search(rf"(?i){term}", english) and not re.search(rf"(?i){own}", spanish)
    ]
    assert wrong == []


@pytest.mark.parametrize("taken_for_another", NEVER)
def test_no_page_has_a_word_that_a_reader_took_for_another(taken_for_another):
    assert [(where, spanish) for where, _, spanish in PAIRS if re.search(taken_for_another, spanish)] == []
