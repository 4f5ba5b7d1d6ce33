"""Short closed lists that say what a capital or a word beside a name means."""

from __future__ import annotations

import re

from docgen.months import ALSO_WORDS, MONTHS

# joins of names, never one by themselves
PARTICLES = frozenset(
    "of the and for in at on s de da del della der den di do dos du el al la le van von bin ibn ter ten".split()
)
# capitals that are no one's name
PLAIN = {month.lower() for month in MONTHS if month not in ALSO_WORDS} | frozenset(
    """i monday tuesday wednesday thursday
friday saturday sunday mondays tuesdays wednesdays thursdays fridays saturdays sundays mon tue tues wed thu thur thurs
fri sat medicare medicaid english spanish german french italian american british european braille velcro ok tv earth
internet bluetooth wifi ashworth borg likert morse christmas easter thanksgiving halloween hanukkah passover ramadan
diwali xmas""".split()
)
# kinds of places and institutions: of a name, but no name by themselves
KINDS = frozenset(
    """academy agency archive archives association bay board care center centre charity child children church city
clinic college community company county department district equipment faculty family foundation fund general group
health home hospital house institute library medical mobility national office park pediatric plan practice private
program programme public rehabilitation regional residence resource river road row school seating service services
social society spinal state street supplies supply team trust university valley vocational works youth
lane mutual""".split()
)
# people after whom conditions are named; from memory, no source
CONDITIONS = frozenset(
    """alzheimer angelman arnold barre becker chiari charcot cockayne down dravet duchenne emery dreifuss friedreich
gehrig guillain hoffmann huntington kennedy kugelberg krabbe lambert eaton leigh lewy lennox gastaut marie tooth
menkes morquio parkinson pompe prader rett sequard tay sachs turner ullrich welander werdnig williams willi""".split()
)
# two capitals that a note means otherwise more often than it means a person
SHORT = frozenset(
    "ac am cp dc dr ed es id iq iv md mm mr ms no ok op or ot pm pt pe rn tv uk us usa slp atp otr".split()
)
# capitals of the trade and of clinics; common practice, no source
ACRONYMS = SHORT | frozenset(
    """adl adls afo alf als aom aot apd bid ble bmi bp cbc cc cmn cms cna cna cns cota cpap cpt crt ct cva dme dmepos
dob doe dpt ecu ed eeg ekg ecg emg er faq fax fda fte fwd gi gmfcs gps hcpcs hep hipaa hmo hoh hr hs icd icf icu ieee
iec iep ii iii ip ir iso iu ivs jr kafo la lcd led lmn lpn mca mmt mod mradl mradls mri ms mwd na nos np npi nt ncd
ncs ob od ok os otc otd oz pa pca pcp pdf pdg pmd po pov prn prom psi pwc qd qid qod qr rad rehab resna rls rna rnet
rom rpm rwd sci scim si sma snf sob soc ssn st sts tbi tens tid tlso tmj ubs ue le ue uri usb uti vin vs wc wfl wnl
wpm xl xray yr fca fim cops gas pt otr ccc als smn wb rue lue rle lle rx hx dx tx sx arom prom ir lt rt lh rh co hz kg
lb ms mph kph abs usa mrn vin npi udi imei iban zip pin dob dea ansi iec astm cfr usc ieee cpt led""".split()
)
# before a name: whoever follows is a person
TITLES = (
    "mr|mrs|ms|miss|mx|dr|doctor|prof|professor|nurse|rev|reverend|pastor|rabbi|imam|judge|officer|coach|captain|sgt|sir"
    "|madam|dame|lady|lord"
)
RELATIONS = (
    "aunt|auntie|uncle|gran|grandad|nan|grandma|grandpa|granny|nana|papa|cousin|sister|brother|mother|father|mom|mum|dad|wife|husband|"
    "son|daughter|niece|nephew|friend|neighbor|neighbour|roommate|partner|fianc[eé]e?|aide|caregiver|teacher|driver|carer|"
    "señor|señora|sra?|herr|frau|mme|monsieur|madame"
)
# what people do: after a capital that is a word too, it is a person who does it
DEEDS = frozenset(
    """said says called calls asked asks told tells came comes went goes saw sees drove drives helped helps took takes
brought brings held holds thinks thought wants wanted lives lived works worked gave gives picked picks met meets
watched watches taught teaches agreed agrees noticed notices reported reports fed feeds lifted lifts pushed pushes
walked walks stayed stays wrote writes wheeled laughed laughs smiled smiles cooks cooked read visits visited phoned
phones texted emailed signed signs knows knew prefers likes liked hates loves loved reckons fitted ordered who whose
signed adjusted transferred carries carried""".split()
)
# words that begin so many sentences that their being a rare name too says nothing
OPENERS = frozenset(
    """an in see so my may will many long in long so else do don son sun song season soon sang young an tiny spring
summer winter autumn love min numbers manual page angle china season man chin hand brain desire chance change aide
loan lane mark marine major read ha hung hang wen yon lean ping star rich nu mi ma pa de guy king porter golden silver
tad bill ward wan van vi alpha beta delta omega""".split()
)
# titles and kin themselves, which are no one's name
CALLED = frozenset(re.findall(r"[a-z]{2,}", f"{TITLES}|{RELATIONS}"))
# words that join and point; some are a rare surname too
FUNCTION = frozenset(
    """a an the he she they we you it i his her their its my our your this that these those who what when where while
since before after if then than each every no not only at in on to of from by for with without into onto over under up
down out off and or but so as is was are were be been do does did has had have can could would might must shall should
one two three four five six seven eight nine ten first last next both all some any most more less few many much other
another same such here there now still once twice also just too very ask keep hold put let set turn use see look say
try go come take make give stop start wait watch left right head hand arm leg foot back side day night week new old
long short""".split()
)
# words of this trade that are a rare first name too
TRADE = frozenset("walker rod carry kit bell shin hank reed clay van angle marine season spring trial dot".split())
