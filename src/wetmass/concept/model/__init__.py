"""What a concept file can say: one block a file, every field described, every wrong value refused.

The plan of the house, from the whole to its parts; a file of rules beside a block holds what its keys ask
of one another:

    concept            the whole file
      site             the pad, or the carrier in flight
      mission          where to; mission_rules, orbit_angles
      stage            one stage, or strap-ons; stage_engines, stage_tanks, strap_ons
        dry_mass       stated, by a structural fraction, or by parts
        propellant     the pair, the load, what of it is not burnt
        engine         a group of engines; engine_rules, figures, thrust_trace, failure
        engine_layout  how they stand
        tank           one tank, or several alike
        drag           while it burns
        home           how it comes down; places, parachutes
      fairing          the shell over the payload, and other parts let go
      limits           what the flight may not exceed
      asked            requirements and claims
    whole              what contradicts itself across blocks; open_values, waiting
    values             kinds of values in common

Blocks are frozen.  Keys in the file are the attribute names with spaces for underscores, except where an
alias is given.  `docs/concept-file.md` is written from these classes.
"""

from wetmass.concept.model.concept import MOST_STAGES, Concept
from wetmass.concept.model.drag import Drag
from wetmass.concept.model.dry_mass import Part
from wetmass.concept.model.engine import EngineGroup
from wetmass.concept.model.engine_layout import EngineLayout
from wetmass.concept.model.fairing import Dropped, Fairing
from wetmass.concept.model.figures import SpecificImpulse, Thrust
from wetmass.concept.model.home import Home
from wetmass.concept.model.limits import Limits
from wetmass.concept.model.mission import Arrival, Mission
from wetmass.concept.model.open_values import Open
from wetmass.concept.model.places import NamedPlace
from wetmass.concept.model.propellant import Propellant
from wetmass.concept.model.site import AirLaunch, Site
from wetmass.concept.model.stage import Stage
from wetmass.concept.model.tank import Tank

__all__ = [
    "MOST_STAGES",
    "AirLaunch",
    "Arrival",
    "Concept",
    "Drag",
    "Dropped",
    "EngineGroup",
    "EngineLayout",
    "Fairing",
    "Home",
    "Limits",
    "Mission",
    "NamedPlace",
    "Open",
    "Part",
    "Propellant",
    "Site",
    "SpecificImpulse",
    "Stage",
    "Tank",
    "Thrust",
]
