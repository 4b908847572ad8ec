"""Fields of where gearbox, transfer case and levers end up behind the engine, and of the room that they have there.

Lengths run along the crank, from the engine to the rear. Places on the vehicle are measured as in `fit`.
"""

from swaplint.spec.fields import CALLIPER, DRIVELINE_SHEET, LOOK, TAPE, Section, measure, word


class DrivelinePlace(Section):
    """Lengths of what is bolted behind the engine, and the room for it in tunnel, floor and frame."""

    housing_length: float = measure(
        "distance from the rear face of the block to the face that the adapter or gearbox bolts to",
        "length",
        "mm",
        typical=110,
        plausible=(0, 500),
        where=CALLIPER,
        zero=True,
    )
    gearbox_length: float = measure(
        "length of the gearbox from the front edge of its bell housing to the centre of the joint at its output; to "
        "its rear face where a transfer case is bolted to it",
        "length",
        "mm",
        typical=620,
        plausible=(150, 2000),
        where=DRIVELINE_SHEET,
    )
    gearbox_flange: float = measure(
        "length of the gearbox from the front edge of its bell housing to the face of its output flange, in place of "
        "`gearbox_length` where a shaft is bolted to that flange",
        "length",
        "mm",
        typical=570,
        plausible=(100, 2000),
        where=DRIVELINE_SHEET,
    )
    transfer_rear: float = measure(
        "distance from the front face of a bolted transfer case to the centre of the joint at its rear output",
        "length",
        "mm",
        typical=320,
        plausible=(0, 1200),
        where=DRIVELINE_SHEET,
        zero=True,
    )
    transfer_rear_flange: float = measure(
        "the same to the face of the flange at its rear output, in place of `transfer_rear`",
        "length",
        "mm",
        typical=270,
        plausible=(0, 1200),
        where=DRIVELINE_SHEET,
        zero=True,
    )
    transfer_front: float = measure(
        "distance from the front face of a bolted transfer case to the centre of the joint at its front output; "
        "negative where that stands ahead of the face",
        "length",
        "mm",
        typical=-80,
        plausible=(-600, 800),
        where=DRIVELINE_SHEET,
        signed=True,
    )
    transfer_front_flange: float = measure(
        "the same to the face of the flange at its front output, in place of `transfer_front`",
        "length",
        "mm",
        typical=-30,
        plausible=(-600, 800),
        where=DRIVELINE_SHEET,
        signed=True,
    )
    levers: str = word(
        "where the levers stand: on gearbox and transfer case, or elsewhere, working them through rods or cables",
        "on-gearbox",
        "remote",
        typical="on-gearbox",
        where=LOOK,
    )
    lever: float = measure(
        "how far the gear lever stands behind the front edge of the bell housing",
        "length",
        "mm",
        typical=480,
        plausible=(0, 2000),
        where=TAPE,
        zero=True,
    )
    lever_opening_front: float = measure(
        "front edge of the opening that the lever comes up through, behind the front axle",
        "length",
        "mm",
        typical=900,
        plausible=(-1500, 6000),
        where=TAPE,
        signed=True,
    )
    lever_opening_rear: float = measure(
        "rear edge of that opening, behind the front axle",
        "length",
        "mm",
        typical=1050,
        plausible=(-1500, 6000),
        where=TAPE,
        signed=True,
    )
    gearbox_mount: float = measure(
        "how far the mount of the gearbox stands behind the front edge of the bell housing",
        "length",
        "mm",
        typical=560,
        plausible=(0, 2500),
        where=TAPE,
        zero=True,
    )
    crossmember_front: float = measure(
        "foremost place behind the front axle where the cross-member can take that mount",
        "length",
        "mm",
        typical=1000,
        plausible=(-1500, 7000),
        where=TAPE,
        signed=True,
    )
    crossmember_rear: float = measure(
        "rearmost place behind the front axle where the cross-member can take that mount",
        "length",
        "mm",
        typical=1100,
        plausible=(-1500, 7000),
        where=TAPE,
        signed=True,
    )
    gearbox_above: float = measure(
        "reach of bell housing and gearbox above their shaft",
        "length",
        "mm",
        typical=190,
        plausible=(40, 600),
        where=TAPE,
    )
    gearbox_half_width: float = measure(
        "greatest reach of bell housing and gearbox to a side of their shaft, starter included",
        "length",
        "mm",
        typical=190,
        plausible=(40, 600),
        where=TAPE,
    )
    tunnel_roof: float = measure(
        "height above the ground of tunnel or floor, inside, where it is lowest over bell housing and gearbox",
        "length",
        "mm",
        typical=950,
        plausible=(150, 2500),
        where=TAPE,
    )
    tunnel_half_width: float = measure(
        "least distance of the tunnel's wall from the vehicle's centre line, beside bell housing and gearbox",
        "length",
        "mm",
        typical=240,
        plausible=(60, 1200),
        where=TAPE,
    )
    transfer_above: float = measure(
        "reach of a bolted transfer case above the shaft that it takes from the gearbox",
        "length",
        "mm",
        typical=140,
        plausible=(20, 600),
        where=TAPE,
    )
    floor_over_transfer: float = measure(
        "height above the ground of tunnel or floor, inside, where it is lowest over the transfer case",
        "length",
        "mm",
        typical=900,
        plausible=(150, 2500),
        where=TAPE,
    )
    transfer_left: float = measure(
        "greatest reach of a bolted transfer case to the left of the shaft that it takes from the gearbox, looking "
        "from the case to the engine, in the position in which it is bolted on; levers and what is bolted to it "
        "included",
        "length",
        "mm",
        typical=280,
        plausible=(20, 800),
        where=TAPE,
    )
    transfer_right: float = measure(
        "the same to the right of that shaft",
        "length",
        "mm",
        typical=170,
        plausible=(20, 800),
        where=TAPE,
    )
    wall_left_of_transfer: float = measure(
        "least distance from the vehicle's centre line to what stands on the vehicle's left of the transfer case: the "
        "tunnel's wall, or the frame rail where that is nearer",
        "length",
        "mm",
        typical=340,
        plausible=(60, 1200),
        where=TAPE,
    )
    wall_right_of_transfer: float = measure(
        "the same to the right",
        "length",
        "mm",
        typical=240,
        plausible=(60, 1200),
        where=TAPE,
    )
    transfer_lever: float = measure(
        "how far the lever of a bolted transfer case stands behind that case's front face",
        "length",
        "mm",
        typical=60,
        plausible=(-500, 1200),
        where=TAPE,
        signed=True,
    )
    transfer_opening_front: float = measure(
        "front edge of the opening that this lever comes up through, behind the front axle",
        "length",
        "mm",
        typical=1150,
        plausible=(-1500, 6000),
        where=TAPE,
        signed=True,
    )
    transfer_opening_rear: float = measure(
        "rear edge of that opening, behind the front axle",
        "length",
        "mm",
        typical=1300,
        plausible=(-1500, 6000),
        where=TAPE,
        signed=True,
    )
