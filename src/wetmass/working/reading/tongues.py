"""German, French, Spanish and Italian words of the trade as the ideas of `names`.

German compounds are taken apart: Brennschlussmasse is Brennschluss and Masse.
"""

from __future__ import annotations

import functools
import unicodedata

_GERMAN = """
start anfang anfangs abheben : start
startmasse abflugmasse startgewicht vollmasse anfangsmasse gesamtmasse : start mass
masse massen : mass
gewicht : weight mass
leer trocken struktur strukturanteil nettomasse : dry
leermasse trockenmasse strukturmasse : dry mass
end endmasse brennschluss brennschluß nach : end
nutzlast : payload mass
treibstoff treibstoffe : propellant
treibstoffmasse : propellant mass
brennstoff kraftstoff methan kerosin : fuel
wasserstoff : fuel lh2
sauerstoff oxidator oxydator : oxidiser lox
schub schubkraft : thrust
schubgewichtsverhältnis : twr
impuls : impulse
spezifischer spezifische spezifisch : specific
ausström austritts ausströmgeschwindigkeit austrittsgeschwindigkeit strahlgeschwindigkeit : exhaust speed
geschwindigkeit geschwindigkeits tempo : speed
geschwindigkeitszuwachs geschwindigkeitsänderung antriebsvermögen gesamtantriebsvermögen : dv
kreisbahngeschwindigkeit bahngeschwindigkeit : orbit speed
fluchtgeschwindigkeit : escape speed
beschleunigung : acceleration
verzögerung bremsverzögerung : acceleration stopping
nettobeschleunigung : acceleration net
durchsatz massenstrom massenfluss massendurchsatz treibstoffdurchsatz : flow
fluss : flow
brenndauer brennzeit : burn time
zeit dauer : time
weg strecke : distance
steighöhe gipfelhöhe maximalhöhe scheitelhöhe : height greatest
höhe flughöhe : height
radius halbmesser : radius
durchmesser : diameter
länge : length
gesamtlänge : length total
wand wandstärke wanddicke : wall
druck : pressure
brennkammer kammer : chamber
staudruck : dynamic pressure
dichte : density
mittlere mittlerer mittleres mittel durchschnittliche : mean
volumen rauminhalt : volume
fläche querschnitt querschnittsfläche : area
hals düsenhals : throat
hals-fläche halsfläche : throat area
mündung austritt düsenende : exit
flächenverhältnis entspannungsverhältnis : expansion ratio
massenverhältnis : mass ratio
mischungsverhältnis : mixture ratio
verhältnis : ratio
anteil faktor : fraction
triebwerk triebwerke triebwerken motoren : engine count
anzahl : count
stufe : stage
oberstufe : upper
unterstufe erststufe : lower
tank tanks behälter : tank
zylinder zylindrisch : cylinder
kugel kugeltank : sphere
ring ringtank torus : ring torus
boden böden kuppel dom halbkugel : dome
restgas gaspolster leervolumen : ullage
reserve : reserve
rest restmenge : residual
verlust verluste : loss
schwerkraft gravitations gravitation : gravity
schwerkraftverlust schwerkraftverluste gravitationsverluste : gravity loss
luftwiderstand widerstand : drag
erde erd : earth
mond : moon
bahn umlaufbahn : orbit
umlaufzeit : period
bahnhöhe : height
neigung inklination : inclination
breite breitengrad : latitude
summe gesamt insgesamt zusammen : total
vakuum : vac
meereshöhe meeresniveau boden-niveau bodennähe : sl
landung : landing
fallschirm : parachute
wirkungsgrad : efficiency
spannung zugspannung festigkeit : stress
leistung : power
wärme : heat
verdampfungswärme : latent
abdampfung verdampfung : boiloff
"""
_FRENCH = """
masse : mass
initiale décollage depart départ : start
finale : end
sèche seche vide structure : dry
charge : load
utile : payload
ergols ergol propergol propergols : propellant
carburant combustible méthane kérosène : fuel
hydrogène : fuel lh2
oxygène comburant : oxidiser lox
poussée poussee : thrust
impulsion : impulse
spécifique specifique : specific
vitesse : speed
éjection ejection : exhaust
débit debit : flow
massique : mass
durée duree temps : time
combustion : burn
accélération acceleration : acceleration
hauteur : height
rayon : radius
diamètre diametre : diameter
longueur : length
épaisseur epaisseur paroi : wall
pression : pressure
chambre : chamber
dynamique : dynamic
densité : density
réservoir reservoir : tank
sphère : sphere
cylindre : cylinder
tore : ring torus
rapport : ratio
mélange melange : mixture
étage etage : stage
moteurs : engine count
moteur : engine
nombre : count
pertes perte : loss
gravité gravite : gravity
traînée : drag
orbite orbitale : orbit
circulaire : circular
libération : escape
période : period
moyenne moyen : mean
totale : total
vide-poussée : vac
sol : sl
col : throat
sortie : exit
aire : area
rendement : efficiency
"""
_SOUTHERN = """
masa massa : mass
inicial iniziale : start
finale : end
seca secca vacía vuota : dry
carga : load
útil utile : payload
propelente propelentes propellente : propellant
combustible carburante : fuel
oxidante ossidante oxígeno ossigeno : oxidiser lox
empuje spinta : thrust
impulso : impulse
específico specifico : specific
velocidad velocità : speed
escape scarico : exhaust
caudal portata flujo : flow
tiempo tempo : time
quemado combustione : burn
aceleración accelerazione : acceleration
altura altezza : height
radio raggio : radius
diámetro diametro : diameter
presión pressione : pressure
densidad densità : density
volumen volume : volume
relación rapporto : ratio
mezcla miscela : mixture
"""


def _table() -> dict[str, str]:
    found: dict[str, str] = {}
    for text in (_GERMAN, _FRENCH, _SOUTHERN):
        for row in text.strip().splitlines():
            words, ideas = row.split(" : ")
            for word in words.split():
                found.setdefault(word, ideas)
    return found


WORDS = _table()
_JOINTS = ("", "s", "n", "en", "es", "e")


@functools.lru_cache(maxsize=2048)
def ideas(word: str) -> frozenset[str]:
    """The ideas of a word of another tongue, a German compound taken apart; empty where it is none.

    >>> sorted(ideas("Brennschlussmasse")), sorted(ideas("poussée"))
    (['end', 'mass'], ['thrust'])
    """
    word = unicodedata.normalize("NFC", word).lower()
    if word in WORDS:
        return frozenset(WORDS[word].split())
    if len(word) < 8:
        return frozenset()
    for cut in range(len(word) - 3, 2, -1):
        first, rest = word[:cut], word[cut:]
        head = next(
            (first.removesuffix(j) for j in _JOINTS if first.endswith(j) and first.removesuffix(j) in WORDS),
            "",
        )
        if head and (tail := ideas(rest)):
            return frozenset(WORDS[head].split()) | tail
    return frozenset()
