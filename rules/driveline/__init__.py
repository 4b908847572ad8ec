"""The driveline pack: does every joint from crank to wheels meet its other side, and does each part bear the torque?"""

from swaplint.api import INTERFACE, Pack, hookimpl

from . import angles, coupling, depths, interfaces, loads, quantities, strength


@hookimpl
def swaplint_pack() -> Pack:
    """Give the host this pack."""
    return Pack(
        "driveline",
        interface=INTERFACE,
        rules=[
            interfaces.housing_match,
            depths.depth_stack,
            depths.pilot_fit,
            interfaces.runout,
            interfaces.spline_match,
            coupling.clutch_capacity,
            coupling.damper_range,
            coupling.converter_match,
            coupling.gearbox_torque,
            strength.axle_torque,
            strength.shaft_strength,
            strength.critical_speed,
            angles.joint_angles,
        ],
        quantities=[
            quantities.nose_reach,
            quantities.pilot_engagement,
            quantities.nose_room,
            quantities.hub_on_spline,
            quantities.converter_gap,
            quantities.pilot_press,
            quantities.pilot_clearance,
            quantities.spigot_clearance,
            quantities.bore_runout,
            quantities.face_runout,
            quantities.peak_torque,
            quantities.clutch_capacity,
            quantities.clutch_factor,
            quantities.launch_energy,
            quantities.damper_factor,
            quantities.stall_speed,
            loads.gearbox_output_torque,
            loads.transfer_driven_torque,
            loads.axle_grip_torque,
            loads.axle_driven_torque,
            loads.axle_torque,
            loads.transfer_torque,
            loads.shaft_torque,
            loads.shaft_stress,
            loads.shaft_speed,
            loads.critical_speed,
            loads.whirl_share,
            loads.equivalent_angle,
        ],
    )
