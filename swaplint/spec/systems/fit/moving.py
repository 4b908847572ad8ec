"""What parts of other systems have of the fit: the fan, which can touch, and the propshaft, which changes length."""

from swaplint.spec.fields import CALLIPER, LOOK, TAPE, Part, flag, measure, word


class FanPlace(Part):
    """The fan as something that can touch."""

    diameter: float = measure(
        "diameter over the blades", "length", "mm", typical=450, plausible=(150, 1200), where=TAPE
    )
    shroud_on: str = word(
        "what the shroud is fixed to: radiator and frame, or the engine", "frame", "engine", typical="frame", where=LOOK
    )
    projection: float = measure(
        "share of the blades' depth that stands inside the shroud",
        "share",
        "%",
        typical=60,
        plausible=(0, 100),
        where=TAPE,
    )
    lowest_tip: float = measure(
        "height above the ground of the lowest point that its blades reach",
        "length",
        "mm",
        typical=550,
        plausible=(100, 2000),
        where=TAPE,
    )
    stopped_in_water: bool = flag(
        "whether it stands still in water: an electric one by a switch, a driven one by taking off its belt or by a "
        "coupling that lets go when cold",
        typical=True,
        where=LOOK,
    )


class ShaftSlip(Part):
    """A propshaft as something that changes its length."""

    slip_in: float = measure(
        "how far its slip joint can still be pushed in at ride height",
        "length",
        "mm",
        typical=40,
        plausible=(0, 250),
        where=TAPE,
        zero=True,
    )
    slip_out: float = measure(
        "how far it can be drawn out at ride height before it comes apart: the length of spline that is engaged",
        "length",
        "mm",
        typical=90,
        plausible=(0, 300),
        where=TAPE,
        zero=True,
    )
    spline_length: float = measure(
        "length of its spline that can be engaged at most",
        "length",
        "mm",
        typical=110,
        plausible=(20, 300),
        where=TAPE,
    )
    drop: float = measure(
        "how far its driven end lies below its driving end at ride height; negative above it",
        "length",
        "mm",
        typical=120,
        plausible=(-600, 800),
        where=TAPE,
        signed=True,
    )
    bump_rise: float = measure(
        "how far its driven end rises from ride height to the bump stop; 0 where it hangs on the frame",
        "length",
        "mm",
        typical=90,
        plausible=(0, 400),
        where=TAPE,
        zero=True,
    )
    droop_fall: float = measure(
        "how far its driven end falls from ride height with the axle hanging free; 0 where it hangs on the frame",
        "length",
        "mm",
        typical=110,
        plausible=(0, 500),
        where=TAPE,
        zero=True,
    )
    bump_shift: float = measure(
        "how far its driven end moves away from the driving end along the vehicle at bump; negative towards it",
        "length",
        "mm",
        typical=4,
        plausible=(-80, 80),
        where=TAPE,
        signed=True,
    )
    droop_shift: float = measure(
        "how far its driven end moves away from the driving end along the vehicle at droop; negative towards it",
        "length",
        "mm",
        typical=-6,
        plausible=(-120, 120),
        where=TAPE,
        signed=True,
    )
    driving_x: float = measure(
        "where the centre of the joint at its driving end stands behind the front axle, where that is measured on the "
        "vehicle and not reckoned from the engine's place: behind a transfer case that stands by itself",
        "length",
        "mm",
        typical=1600,
        plausible=(-1500, 9000),
        where=TAPE,
        signed=True,
    )
    driving_flange_x: float = measure(
        "where the face of the flange that drives it stands behind the front axle, in place of `driving_x`",
        "length",
        "mm",
        typical=1550,
        plausible=(-1500, 9000),
        where=TAPE,
        signed=True,
    )
    driving_yoke_depth: float = measure(
        "depth of its flange yoke at the driving end: from the face that bolts to the flange to the joint's centre",
        "length",
        "mm",
        typical=50,
        plausible=(5, 250),
        where=CALLIPER,
    )
    driven_x: float = measure(
        "where the centre of the joint or centre bearing at its driven end stands behind the front axle at ride height",
        "length",
        "mm",
        typical=2600,
        plausible=(-1500, 9000),
        where=TAPE,
        signed=True,
    )
    driven_flange_x: float = measure(
        "where the face of the flange that it drives stands behind the front axle at ride height, in place of "
        "`driven_x`",
        "length",
        "mm",
        typical=2650,
        plausible=(-1500, 9000),
        where=TAPE,
        signed=True,
    )
    driven_yoke_depth: float = measure(
        "depth of its flange yoke at the driven end: from the face that bolts to the flange to the joint's centre",
        "length",
        "mm",
        typical=50,
        plausible=(5, 250),
        where=CALLIPER,
    )
    side_offset: float = measure(
        "how far its driven end lies to the side of its driving end",
        "length",
        "mm",
        typical=0,
        plausible=(0, 800),
        where=TAPE,
        zero=True,
    )
    length_before: float = measure(
        "length of the shaft in its place before the swap, joint centre to joint centre",
        "length",
        "mm",
        typical=1180,
        plausible=(100, 3000),
        where=TAPE,
    )
