## Vacuum, tools and cord on their circuit.

-local = Local codes decide; have new circuits put in by a licensed electrician.

power-vacuum_alone = the vacuum's current against four fifths of its circuit
    .do = Use a circuit of a higher rating. { -local }
power-vacuum_alone-good = The vacuum alone is within what its circuit allows one plug-in appliance.
power-vacuum_alone-over = The vacuum alone takes more than its circuit allows one plug-in appliance.
power-vacuum_alone-outlet = The circuit allows it, but only an outlet of 20 A does: one of 15 A is for { $outlet } at most, on a 20 A circuit too.
    .do = Look at the outlet: one of 20 A has a T-shaped slot. { -local }

power-vacuum_fused = the vacuum's current against its circuit
    .do = Use a circuit of a higher rating. { -local }
power-vacuum_fused-good = The vacuum alone stays within its circuit's rating.
power-vacuum_fused-over = The vacuum alone takes more than its circuit is rated for.
power-vacuum_fused-british = The circuit carries it, but the fuse in a British plug is of { $fuse }: it may blow.
    .do = Where plugs have fuses, use an outlet of 16 A made for it. { -local }

power-tool_alone = the tool's current against its circuit
    .do = Run it from a circuit made for it. { -local }
power-tool_alone-good = The tool alone is near what one plug on such a circuit may take.
power-tool_alone-over = The tool alone takes more than one plug on such a circuit may.

power-continuous = the vacuum running for hours
    .do = Pause for a quarter of an hour now and then, or use a circuit of a higher rating. { -local }
power-continuous-good = It runs for { $time } in one session: a continuous load, of which the circuit must be rated for five fourths; it is.
power-continuous-over = It runs for { $time } in one session: a continuous load, of which the circuit must be rated for five fourths; it is not.

power-together = vacuum and tool together against the breaker
    .do = Plug the tool and the unit into different circuits, and start the vacuum first. { -local }
power-together-good = { $others ->
    [counted] Vacuum and tool together stay within the breaker's rating; both starting at once can still trip it.
   *[unknown] Vacuum and tool together stay within the breaker's rating, as long as nothing else runs on it; both starting at once can still trip it.
}
power-together-over = Vacuum and tool together take more than the breaker is rated for: it may trip.
power-together-perhaps_over = Vacuum and tool together likely take more than the breaker is rated for, by the currents that were assumed: read the labels.

power-two_circuits = which tool on which circuit
    .do = { $practice ->
        [us] Find out by switching breakers off which outlets hang on which circuit, and label them. No cord through a door to another room as a lasting way. { -local }
       *[metric] Find out by switching breakers off which sockets hang on which circuit, and label them; sockets of one ring or radial share one breaker. { -local }
    }
power-two_circuits-some_share = Two circuits serve it: the unit with { $with-unit } on the one; { $apart } on the other.
power-two_circuits-all_apart = Two circuits serve it: the unit alone on the one; { $apart } on the other.

power-start = both motors starting
    .do = { $practice ->
        [us] Start the vacuum, let it run up, then the tool. An outlet that starts the vacuum with the tool must be rated for both and wait a second or two; two circuits ask for one that only senses the tool.
       *[metric] Start the vacuum, let it run up, then the tool. A socket that starts the vacuum with the tool must be rated for both and wait a second or two; on 16 A a breaker of type C bears starts better than type B: an electrician's choice.
    }
power-start-one_after_another = With the { $tool } it takes { $running } while both run, and { $surge } in the first moment if both start at once.

power-with_others = the vacuum and what else runs on its circuit against the breaker
    .do = Plug the unit into another circuit, or switch off what else runs on this one. { -local }
power-with_others-good = The vacuum and what else runs on its circuit stay within the breaker's rating.
power-with_others-over = The vacuum and what else runs on its circuit take more than the breaker is rated for: it may trip.

power-cord = the cord's thickness for its length
power-cord-thinnest = Along { $cord } of cord at { $current }, warm from work, conductors of { $thickness } lose { $loss } of the voltage.
    .do = Read the thickness that is printed on the extension: { $thickness } or thicker, rolled out fully. Never use a thinner one.
power-cord-thicker = Along { $cord } of cord at { $current }, warm from work, conductors of { $thickness } lose { $loss } of the voltage; thinner ones lose too much or run hot.
    .do = Read the thickness that is printed on the extension: { $thickness } or thicker, rolled out fully. Never use a thinner one.
power-cord-none = Along { $cord } of cord at { $current }, no usual cord keeps the loss of voltage within { $most }.
    .do = Shorten the cord, or have an outlet put in nearer. { -local }

power-cord_owned = the cord that is owned
    .do = Take a thicker or a shorter one, rolled out fully, and plug the tool into the wall.
power-cord_owned-hot = The wire of { $wire } carries { $carries }; the vacuum draws { $current }: it runs hot and can burn.
    .do = Do not run the vacuum on it. Take a thicker cord, rolled out fully.
power-cord_owned-perhaps_hot = The wire of { $wire } carries { $carries }; nobody read what the vacuum draws, { $current } perhaps: then it runs hot and can burn.
    .do = Read the vacuum's label before you run it on this cord.
power-cord_owned-loses = The wire of { $wire } loses { $loss } of the voltage at { $current }, more than { $most }: the motor runs slow and hot.
power-cord_owned-length_unknown = The wire of { $wire } carries { $current }; how much voltage it loses hangs on its length, which is not given.
    .do = Measure the cord, and keep it short.
power-cord_owned-good = The wire of { $wire } carries the vacuum's { $current } and loses { $loss } of the voltage.

cord-n-AWG = { $first } AWG
cord-0-75-mm = 0.75 mm²
cord-1-0-mm = 1.0 mm²
cord-1-5-mm = 1.5 mm²
cord-2-5-mm = 2.5 mm²
cord-n-mm = { $first } mm²
