"""What a place looks like, in words, sound or not: for the ear, what its picture is for the eye.

Nothing here judges: a part without a sign is described as fully as one with it.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from .by_fact import Facts
from .names import LOOKS, SYMPTOM_WORDS

PICTURED = frozenset(LOOKS) - {"running"}  # a run is watched and heard: no picture stands for it
# Facts that a person would name, beside the symptoms: the others only draw the picture.
NAMED = frozenset({"springs_whole", "smooth_to_disc", "keyed", "seated", "loaded"})


@dataclass(frozen=True, slots=True)
class Aspect:
    """One thing about a place: what it is like, unless one of its symptoms says otherwise.

    Attributes
    ----------
    plain : str or tuple of str or callable
        Words without a symptom; of several, one by the shade of the brake; by facts; or none.
    symptoms : tuple of str
        Codes whose words stand instead.
    eye : bool
        Whether a picture shows it. What is felt, heard or smelt is said to everybody.
    """

    plain: str | tuple[str, ...] | Callable[[Facts], str]
    symptoms: tuple[str, ...] = ()
    eye: bool = True

    def words(self, facts: Facts) -> str:
        """Return the aspect in words, with the facts of one look."""
        found = [code for code in facts["symptoms"] if code in self.symptoms]
        if found:
            return " ".join(SYMPTOM_WORDS[code] for code in found)
        if isinstance(self.plain, str):
            return self.plain
        if isinstance(self.plain, tuple):
            shaded: str = self.plain[facts.get("shade", 0) % len(self.plain)]
            return shaded
        return self.plain(facts)


def _shaded(*words: str) -> Callable[[Facts], str]:
    return lambda facts: words[facts.get("shade", 0) % len(words)]


def _unless_off(words: str) -> Callable[[Facts], str]:
    return lambda facts: "" if facts.get("off") else words


def _cover(facts: Facts) -> str:
    if facts.get("off"):
        return "The cover is off."
    return _shaded(
        "The paint of the cover is even.",
        "The paint of the cover has an old scratch.",
        "A run of paint has dried on the cover.",
    )(facts)


def _fan(facts: Facts) -> str:
    if facts.get("off"):
        return "The fan is off. The keyway in the shaft is bare."
    ring = "the ring is off" if facts.get("ring_off") else "the ring lies in its groove"
    if facts.get("keyed") is False:
        return f"The fan sits on the shaft without its key; {ring}."
    marks = _shaded("", " There is a little dust on its blades.", " A puller has left two marks.")
    return f"The fan sits on its key; {ring}.{marks(facts)}"


def _seal(facts: Facts) -> str:
    if facts.get("off"):
        return "The seal band is rolled back; its lips are whole."
    if facts.get("seated") is False:
        return "The lip of the seal band stands out of its groove on one side."
    marks = _shaded(
        "", " Its rubber is a little faded.", " A thumb has left its print in the dust."
    )
    return f"The seal band lies in both grooves all round.{marks(facts)}"


def _screws(facts: Facts) -> str:
    out = [str(screw) for screw in facts.get("out", [])]
    if out:
        return f"Retaining screw {' and '.join(out)} is out." if len(out) == 1 else (
            f"Retaining screws {', '.join(out)} are out."
        )  # fmt: skip
    return ""


def _lever(facts: Facts) -> str:
    if facts.get("off"):
        return "The hand release is off; its bracket is bare."
    marks = _shaded("", " Its grip is worn bright.", " Paint has flaked off its bracket.")
    return f"The hand release stands in its rest.{marks(facts)}"


def _leads(facts: Facts) -> str:
    if facts.get("leads") == "off":
        return "The leads of the coil are off, marked, their ends covered."
    if facts.get("leads") == "ac":
        return "The leads of the coil sit under the screws of the AC side."
    return "Each lead sits under its screw."


def _springs(facts: Facts) -> str:
    if "springs" not in facts:
        return _shaded(
            "The spring ends lie in their bores.",
            "The spring ends lie in their bores, with dust round them.",
            "The spring ends lie in their bores, one of them scratched.",
        )(facts)
    short = facts["springs"] - facts["springs_whole"]
    if not short:
        return f"{facts['springs']} springs stand to one height."
    are = "is" if short == 1 else "are"
    stand = f"{facts['springs_whole']} of {facts['springs']} springs stand to one height"
    return f"{stand}; {short} {are} short, with a ragged end."


def _wear_plate(facts: Facts) -> str:
    if "smooth_to_disc" not in facts:
        return "No wear plate is there; the motor end is bare and plain grey."
    side = "smooth" if facts["smooth_to_disc"] else "rough"
    marks = _shaded("", " It has fine marks of grinding.", " One screw head is scratched.")
    return f"The wear plate is there; its {side} side faces the disc.{marks(facts)}"


_LOOSE = "No loose piece lies in the housing."
_HUB_WITHIN = "The hub lies within the thickness of the disc."
_NO_SMELL = Aspect("It has no smell.", ("smells-of-varnish",), eye=False)
_LINING = (
    "and dull, one shade all round.",
    "and dull, with two light scratches.",
    "and dull, a shade darker towards one end.",
)

ASPECTS: Mapping[str, tuple[Aspect, ...]] = {
    "running": (
        Aspect("It lifts at once.", ("will-not-lift",), eye=False),
        Aspect("One even clack at each start and each stop.",
               ("loud-clack", "uneven-clack", "late-dull-tap"), eye=False),
        Aspect("The magnet hums softly.", ("hums-loudly",), eye=False),
        Aspect("It starts and stops smoothly.",
               ("first-start-jerks", "clatters", "fan-rattles"), eye=False),
        Aspect("The hook stands where it was stopped.", ("hook-sags",), eye=False),
        Aspect("The cover stays cool, and nothing smells.",
               ("warm-cover", "smell-of-lining"), eye=False),
    ),
    "outside": (
        Aspect(_cover),
        Aspect("Housing and floor are dry.", ("track-of-water", "wet-inside", "wet-trace")),
        Aspect("The hand release stands in its rest.", ("lever-drawn",)),
        Aspect("The paint mark across the slipping clutch is one line.", ("clutch-marks-apart",)),
        Aspect("It is silent.", ("hums-at-rest", "load-stuck"), eye=False),
        Aspect("You can leave your hand on it.",
               ("hot-to-the-hand", "warm-cover"), eye=False),
        _NO_SMELL,
    ),
    "fan": (
        Aspect(_fan),
        Aspect("It is dry.", ("wet-inside",)),
        Aspect(_unless_off("By hand the fan does not rock."), ("fan-rattles",), eye=False),
    ),
    "seal": (Aspect(_seal, ("seal-missing",)),),
    "dust": (
        Aspect(("Gap and edge are bare; the metal shows.",
                "Gap and edge are bare, with the marks of a cloth.",
                "Gap and edge are bare, but for a hair."), ("dust", "dust-caked")),
        Aspect(_LOOSE, ("spring-splinter",)),
    ),
    "edge": (
        Aspect(tuple(f"The edge of the lining is grey-brown {words}" for words in _LINING),
               ("dark-shiny-edge", "glassy-brown-edge", "polished-on-one-side", "narrow-ring")),
        Aspect("The steel on both sides is plain grey.",
               ("blue-patches", "bright-rings", "rust-on-the-rim")),
        Aspect("Below the shaft it is dry.", ("wet-inside", "wet-trace")),
        Aspect(_LOOSE, ("dust-caked", "spring-splinter", "rust-red-dust")),
        Aspect(_HUB_WITHIN, ("hub-stands-out",)),
    ),
    "screws": (
        Aspect(("Round each screw head the face is plain grey.",
                "Round each screw head the face is plain grey, with the old print of a washer.",
                "Round each screw head the face is plain grey; one head has a burr."),
               ("fretting-at-a-screw",)),
        Aspect(_screws),
        Aspect("The paint where the gap is set is old and dull.", ("fresh-paint",)),
        Aspect(lambda facts: "" if facts.get("out") else "No screw head turns by hand.",
               ("screw-turns-by-hand",), eye=False),
    ),
    "lever": (
        Aspect(_lever, ("lever-drawn",)),
        Aspect(_unless_off("By hand it moves a little before it bites."),
               ("lever-without-play",), eye=False),
    ),
    "leads": (
        Aspect(("The terminal screws are bright, all of one colour.",
                "The terminal screws are dull, all of one colour.",
                "The terminal screws are of one colour; one slot is burred."),
               ("discoloured-terminal",)),
        Aspect(_leads, ("lead-torn",)),
        Aspect("The contact for the brake is on the DC side of the rectifier.",
               ("contact-on-the-ac-side",)),
        _NO_SMELL,
    ),
    "springs": (
        Aspect(_springs),
        Aspect("They are of one colour.", ("springs-of-two-colours",)),
        Aspect(_LOOSE, ("spring-splinter",)),
    ),
    "faces": (
        Aspect(tuple(f"The face of the lining is grey-brown {words}" for words in _LINING),
               ("dark-shiny-edge", "glassy-brown-edge", "narrow-ring")),
        Aspect("The counter-face is grey, with fine round running marks.",
               ("blue-patches", "radial-cracks")),
    ),
    "hub": (
        Aspect(("The flanks of the teeth are bare and grey.",
                "The flanks of the teeth are bare, bright where they bear.",
                "The flanks of the teeth are bare and grey; one tooth has a tool mark."),
               ("rust-red-dust",)),
        Aspect("Below the shaft the metal is bare.", ("wet-trace",)),
        Aspect(lambda facts: "The disc is off." if facts.get("off") else _HUB_WITHIN,
               ("hub-stands-out",)),
        Aspect(_unless_off("By hand the disc moves on the hub by a trace."),
               ("disc-rocks",), eye=False),
    ),
    "wear_plate": (Aspect(_wear_plate, ("bright-rings",)),),
}  # fmt: skip


def sight_words(facts: Facts) -> tuple[str, str]:
    """Return what a picture of a place shows, and what hand, ear and nose find there."""
    aspects = ASPECTS[facts["at"]]
    by_eye = (one.words(facts) for one in aspects if one.eye)
    else_ = (one.words(facts) for one in aspects if not one.eye)
    return " ".join(filter(None, by_eye)), " ".join(filter(None, else_))


def look_words(facts: Facts) -> str:
    """Return all that a look brought: what a person who only hears it needs."""
    if facts["at"] != "running":
        return " ".join(filter(None, sight_words(facts)))
    hook = "with the load on the hook" if facts.get("loaded") else "with the hook empty"
    if "will-not-lift" in facts["symptoms"]:
        return f"Up, down, stop, {hook}. {_symptom_words(facts)}"
    return f"Up, down, stop, {hook}. {sight_words(facts)[1]}"


def noticed_words(facts: Facts) -> str:
    """Return only what a person would name of a look: for a log or a story; often nothing."""
    words = [_symptom_words(facts)]
    if "springs_whole" in facts:
        words.append(f"{facts['springs_whole']} of {facts['springs']} springs are whole.")
    if "smooth_to_disc" in facts:
        side = "smooth" if facts["smooth_to_disc"] else "rough"
        words.append(f"The wear plate is there; its {side} side faces the disc.")
    if "keyed" in facts:
        words.append("The fan sits on the shaft without its key.")
    if "seated" in facts:
        words.append("The lip of the seal band stands out of its groove on one side.")
    if facts["at"] == "running":
        hook = "with the load on the hook" if facts.get("loaded") else "with the hook empty"
        words.insert(0, f"Up, down, stop, {hook}.")
        words[1] = words[1] or "Nothing out of the ordinary."
    return " ".join(filter(None, words))


def _symptom_words(facts: Facts) -> str:
    return " ".join(SYMPTOM_WORDS[code] for code in facts["symptoms"])
