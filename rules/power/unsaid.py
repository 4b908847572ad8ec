"""Why some facts of the wiring may stay unsaid: each with what then stands in its place."""

NO_RELAY = {
    "electrics.cables.*.switched_by": "A cable that names nothing to close it holds no relay: the drawing shows those "
    "that do, and the rating of each is asked for.",
}
"""For rules that walk the cables."""
STANDING_WORK = {
    "build.duty.stationary_speed": "The owner names a speed for work done standing; a build that names none works "
    "under way and is judged idling and cruising.",
}
TYRES = {
    "driveline.tyres.rolling_circumference": ("driveline.tyres.overall_diameter", "driveline.tyres.designation"),
    "driveline.tyres.overall_diameter": "driveline.tyres.designation",
}
"""What gives the size of a tyre where another measure of it is not stated."""
BATTERY_USE = {
    "electrics.batteries.*.use": "A battery whose use is not stated counts as one that starts the engine, fed and "
    "fused from battery-positive.",
}
