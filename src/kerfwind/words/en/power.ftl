## Vacuum, tools and cord on their circuit.

-local = Local codes decide; have new circuits put in by a licensed electrician.

power-vacuum_alone = the vacuum's current against four fifths of its circuit
    .do = Use a circuit of a higher rating. { -local }
power-vacuum_alone-good = The vacuum alone is within what its circuit allows one plug-in appliance.
power-vacuum_alone-over = The vacuum alone takes more than its circuit allows one plug-in appliance.
power-vacuum_alone-outlet = The circuit allows it, but only an outlet of 20 A does: one of 15 A is for { $outlet } at most, on a 20 A circuit too.
    .do = Look at the outlet: one of 20 A has a T-shaped slot. { -local }

power-together = vacuum and tool together against the breaker
    .do = Plug the tool and the unit into different circuits, and start the vacuum first. { -local }
power-together-good = { $others ->
    [counted] Vacuum and tool together stay within the breaker's rating; both starting at once can still trip it.
   *[unknown] Vacuum and tool together stay within the breaker's rating, as long as nothing else runs on it; both starting at once can still trip it.
}
power-together-over = Vacuum and tool together take more than the breaker is rated for: it may trip.
power-together-perhaps_over = Vacuum and tool together likely take more than the breaker is rated for, by the currents that were assumed: read the labels.

power-with_others = the vacuum and what else runs on its circuit against the breaker
    .do = Plug the unit into another circuit, or switch off what else runs on this one. { -local }
power-with_others-good = The vacuum and what else runs on its circuit stay within the breaker's rating.
power-with_others-over = The vacuum and what else runs on its circuit take more than the breaker is rated for: it may trip.

power-cord = the cord's thickness for its length
power-cord-thinnest = Along { $cord } of cord at { $current }, conductors of { $thickness } lose { $loss } of the voltage.
    .do = Read the thickness that is printed on the extension: { $thickness } or thicker, rolled out fully. Never use a thinner one.
power-cord-thicker = Along { $cord } of cord at { $current }, conductors of { $thickness } lose { $loss } of the voltage; thinner ones lose too much or run hot.
    .do = Read the thickness that is printed on the extension: { $thickness } or thicker, rolled out fully. Never use a thinner one.
power-cord-none = Along { $cord } of cord at { $current }, no usual cord keeps the loss of voltage within { $most }.
    .do = Shorten the cord, or have an outlet put in nearer. { -local }

cord-awg16 = 16 AWG
cord-awg14 = 14 AWG
cord-awg12 = 12 AWG
cord-awg10 = 10 AWG
cord-mm15 = 1.5 mm²
cord-mm25 = 2.5 mm²
