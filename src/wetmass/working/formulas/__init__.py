"""Relations a working commonly uses, one topic a file, as text that is read by `catalogue`.

    name of the relation [!]
        formula [unit] (source)
        is ideas | ideas ; not ideas
        S17 wrong formula : what was done : what should be done

`!` says that the name of a line alone settles the relation.  The line `is` tells by which ideas in the name
of a line (see `names.tags`) it is recognised, and which say that it is another quantity; without it, it is
known by its numbers and its unit alone.  Wrong forms that need words of their own are listed; the others are
made by putting every slip of form into the right one.
"""

TOPICS = (
    "rocket_equation", "impulse", "flow_and_time", "thrust", "nozzle", "climb", "throws", "landing", "orbits",
    "turning_earth", "round_shapes", "tanks", "walls", "mixtures", "masses", "packing", "air", "air_breathing",
    "heat",
)  # fmt: skip
