"""The gearing pack: do engine, ratios, tyres and duty fit together?"""

from swaplint.api import INTERFACE, Pack, hookimpl

from . import quantities, rules


@hookimpl
def swaplint_pack() -> Pack:
    """Give the host this pack."""
    return Pack(
        "gearing",
        interface=INTERFACE,
        rules=[
            rules.cruise_rpm,
            rules.cruise_reserve,
            rules.gradeability,
            rules.startability,
            rules.shift_step,
            rules.crawl,
            rules.top_speed,
            rules.engine_overspeed,
            rules.speedometer,
        ],
        quantities=[
            quantities.tyre_diameter,
            quantities.rolling_radius,
            quantities.axle_ratio,
            quantities.overall_ratio,
            quantities.top_ratio,
            quantities.lowest_ratio,
            quantities.cruise_speed_engine,
            quantities.engine_speed_at_road_max,
            quantities.cruise_road_power,
            quantities.cruise_available_power,
            quantities.cruise_reserve,
            quantities.cruise_grade,
            quantities.altitude_factor,
            quantities.climb_in_gear,
            quantities.steepest_climb,
            quantities.launch_torque,
            quantities.start_grade,
            quantities.start_grade_with_trailer,
            quantities.speed_after_shift,
            quantities.crawl_speed,
            quantities.governed_road_speed,
            quantities.top_speed,
            quantities.tyre_speed,
            quantities.overspeed_road_speed,
            quantities.speedometer_ratio,
        ],
    )
