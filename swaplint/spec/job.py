"""The `[build]` section: the job itself, its stage, and the conditions that the build is designed for."""

from swaplint.spec.fields import (
    AUTHORITY,
    COMPONENT_SHEET,
    MARKING,
    OWNER,
    RECORD,
    Section,
    count,
    day,
    flag,
    measure,
    part,
    parts,
    text,
    word,
    words,
)
from swaplint.spec.stages import STAGES as STAGES
from swaplint.spec.stages import UNSTATED as UNSTATED
from swaplint.spec.stages import Stage as Stage
from swaplint.spec.systems.compliance import ALTERATIONS, POINTED, TOLD, Place, WorkshopSafety
from swaplint.units.showing import UNIT_SYSTEMS


class DesignPlace(Section):
    """A place that the vehicle works in, with the hottest air there."""

    altitude: float = measure(
        "height of the place above sea level", "length", "m", typical=800, plausible=(0, 5500), where=OWNER, zero=True
    )
    ambient: float = measure(
        "hottest air that the vehicle must work in there",
        "temperature",
        "degC",
        typical=35,
        plausible=(-30, 60),
        where=OWNER,
        signed=True,
    )


class Design(Section):
    """The conditions that the build is designed for: the owner's targets and the places it will work in."""

    ambient_max: float = measure(
        "hottest air that the vehicle must work in",
        "temperature",
        "degC",
        typical=40,
        plausible=(10, 60),
        where=OWNER,
        signed=True,
    )
    points: dict[str, DesignPlace] = parts(
        "places of the work, each with its height and the hottest air there; left out where only extremes are known"
    )
    ambient_min: float = measure(
        "coldest air that the vehicle must start in",
        "temperature",
        "degC",
        typical=-15,
        plausible=(-50, 25),
        where=OWNER,
        signed=True,
    )
    altitude_max: float = measure(
        "highest place that the vehicle must work at, above sea level",
        "length",
        "m",
        typical=1000,
        plausible=(0, 5500),
        where=OWNER,
        zero=True,
    )
    grade_max: float = measure(
        "steepest slope that the vehicle must climb, rise over run",
        "grade",
        "%",
        typical=30,
        plausible=(2, 100),
        where=OWNER,
    )
    start_grade: float = measure(
        "steepest slope that the laden vehicle must move off on, rise over run",
        "grade",
        "%",
        typical=20,
        plausible=(5, 60),
        where=OWNER,
    )
    tilt_long: float = measure(
        "steepest fore-and-aft tilt that the vehicle works at",
        "angle",
        "deg",
        typical=20,
        plausible=(0, 45),
        where=OWNER,
        zero=True,
    )
    tilt_side: float = measure(
        "steepest sideways tilt that the vehicle works at",
        "angle",
        "deg",
        typical=12,
        plausible=(0, 40),
        where=OWNER,
        zero=True,
    )
    cruise_speed: float = measure(
        "speed that the vehicle spends most of its road time at",
        "speed",
        "km/h",
        typical=80,
        plausible=(15, 140),
        where=OWNER,
    )
    road_speed_max: float = measure(
        "highest speed that the vehicle is meant or allowed to reach",
        "speed",
        "km/h",
        typical=100,
        plausible=(20, 200),
        where=OWNER,
    )
    descent_speed: float = measure(
        "speed that long descents are driven at", "speed", "km/h", typical=50, plausible=(5, 120), where=OWNER
    )
    descent_grade: float = measure(
        "slope of the longest steep descent, fall over run", "grade", "%", typical=8, plausible=(1, 40), where=OWNER
    )
    crawl_speed: float = measure(
        "slowest steady speed that the work needs",
        "speed",
        "km/h",
        typical=3,
        plausible=(0.5, 15),
        where=OWNER,
    )
    range_target: float = measure(
        "distance that a full tank must reach", "length", "km", typical=400, plausible=(50, 3000), where=OWNER
    )
    wade_depth: float = measure(
        "deepest water that the vehicle must cross",
        "length",
        "mm",
        typical=300,
        plausible=(0, 1500),
        where=OWNER,
        zero=True,
    )


class Duty(Section):
    """What the vehicle does all day."""

    terrain: str = word(
        "where the vehicle works: on roads only, or off them too",
        "road",
        "off-road",
        typical="road",
        where=OWNER,
    )
    stationary_power: float = measure(
        "power taken from the engine while standing: a pump, a generator",
        "power",
        "kW",
        typical=30,
        plausible=(1, 300),
        where=COMPONENT_SHEET,
    )
    stationary_speed: float = measure(
        "engine speed of the standing work",
        "rotation",
        "r/min",
        typical=1800,
        plausible=(600, 4000),
        where=COMPONENT_SHEET,
    )
    stationary_hours: float = measure(
        "time of standing work that one tank must last",
        "duration",
        "h",
        typical=4,
        plausible=(0.5, 48),
        where=OWNER,
    )
    idle_share: float = measure(
        "share of the running time spent idling",
        "share",
        "%",
        typical=20,
        plausible=(0, 90),
        where=OWNER,
        zero=True,
    )
    short_trip_share: float = measure(
        "share of the trips too short to warm up",
        "share",
        "%",
        typical=30,
        plausible=(0, 100),
        where=OWNER,
        zero=True,
    )
    starts_per_day: float = count("starts on a working day", typical=10, plausible=(1, 300), where=OWNER)
    standing_days: float = measure(
        "longest time between two starts", "duration", "day", typical=14, plausible=(1, 365), where=OWNER
    )
    loaded_run: float = measure(
        "longest run under load, without a break, that comes at least once in ten running hours",
        "duration",
        "min",
        typical=40,
        plausible=(1, 600),
        where=OWNER,
    )
    service_interval: float = measure(
        "running time between two services", "duration", "h", typical=250, plausible=(50, 2000), where=OWNER
    )
    dust: float = measure(
        "dust in the air that it works in: 0.001 g/m3 on clean roads, 0.1 behind others on dirt",
        "density",
        "g/m3",
        typical=0.02,
        plausible=(0.0001, 2),
        where=OWNER,
    )
    vegetation: bool = flag("whether it works or stands over grass, brush or litter", typical=False, where=OWNER)
    indoor: bool = flag("whether it runs inside halls or sheds", typical=False, where=OWNER)


class Job(Section):
    """The build as a job."""

    format: float = count("number of the spec format; 1 is the only one", typical=1, plausible=(1, 1), where=RECORD)
    name: str = text("what the build is called", typical="Example tender", where=RECORD)
    base: str = text(
        "file name of the build spec that this one stands on: it fills in what this one leaves out, all but the stage",
        typical="example.toml",
        where=RECORD,
    )
    stage: str = word("how far the job is", *STAGES, typical="plan", where=RECORD)
    jurisdiction: str = text(
        "whose rules the vehicle must meet, and as what class",
        typical="example state, light goods class",
        where=AUTHORITY,
    )
    places: dict[str, Place] = parts(
        "the places whose rules the vehicle must meet, such as country and state, each under a name; what a place asks "
        'comes from its sheet, as with sheet = "no.place.toml"',
        needed=True,
    )
    alterations: list[str] = words(
        "what the swap alters besides the engine; an empty list for nothing",
        *ALTERATIONS,
        typical="cross-member",
        where=RECORD,
    )
    replaced: list[str] = words(
        "which of these are not the vehicle's own any more; an empty list where only the engine is another",
        *POINTED,
        typical="transmission",
        where=RECORD,
    )
    off_road_parts: list[str] = words(
        "parts that are fitted though their maker sells them for use off the road only; an empty list for none",
        typical="air cleaner without a housing",
        where=MARKING,
    )
    told: list[str] = words(
        "who was told of the other engine, its power and its fuel", *TOLD, typical="insurer", where=RECORD
    )
    safety: WorkshopSafety = part("what keeps people safe while the work is done")
    judged_on: str = day(
        "day on which offers and papers are judged; a call's own day goes before it, and without both it is today",
        typical="2026-05-31",
        where=RECORD,
    )
    units: str = word(
        "what numbers are shown in; a spec takes values in any unit", *UNIT_SYSTEMS, typical="metric", where=RECORD
    )
    note: str = text("a remark for people; no rule reads it", typical="second draft", where=RECORD)
    design: Design = part("the conditions that the build is designed for")
    duty: Duty = part("what the vehicle does all day")
