"""The fuel pack: does the fuel get from the tank to the engine and back, clean, cool enough and without danger?"""

from swaplint.api import INTERFACE, Pack, hookimpl

from . import cleanliness, installation, lines, quantities, tank, tank_quantities


@hookimpl
def swaplint_pack() -> Pack:
    """Give the host this pack."""
    return Pack(
        "fuel",
        interface=INTERFACE,
        rules=[
            lines.suction_loss,
            lines.supply_pump,
            lines.return_pressure,
            tank.pickup_position,
            tank.tilt_uncovering,
            tank.venting,
            cleanliness.filtration,
            cleanliness.cold_flow,
            installation.materials,
            tank.tank_conversion,
            tank.range_reserve,
            tank.return_heating,
            installation.line_routing,
            installation.high_pressure,
        ],
        quantities=[
            quantities.fuel_temperature,
            quantities.density,
            quantities.viscosity,
            quantities.supply_velocity,
            quantities.supply_reynolds,
            quantities.supply_friction,
            quantities.supply_fittings,
            quantities.supply_lift,
            quantities.filter_drop,
            quantities.supply_loss,
            quantities.suction_pressure_loss,
            quantities.feed_flow_needed,
            quantities.feed_pressure_needed,
            quantities.feed_pressure,
            quantities.pump_flow,
            quantities.return_friction,
            quantities.return_pressure,
            tank_quantities.unusable,
            tank_quantities.covering_volume,
            tank_quantities.covering_share,
            tank_quantities.usable,
            tank_quantities.driving_range,
            tank_quantities.standing_time,
            tank_quantities.vent_flow,
            tank_quantities.vent_drop,
            tank_quantities.return_heat,
            tank_quantities.tank_surface,
            tank_quantities.tank_temperature,
            tank_quantities.heater_power_needed,
        ],
    )
