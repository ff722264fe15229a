## Dust caught: airflow at the hood.

air-dust_caught = airflow at { $hood } while { $operation }
air-dust_caught-good = Enough air to catch the dust: { $had } at the hood, { $needed } needed.
    .many = Perhaps enough air to catch the dust
air-dust_caught-enough = Enough air to catch the dust: { $had } at the hood, { $needed } needed. Dust caught is never certain: wear a mask all the same.
air-dust_caught-short = Too little air to catch the dust, with { $had } at the hood and { $needed } needed.
    .many = Too little air to catch the dust
    .brief = Wear a mask there: fine dust escapes.
    .do = See “What would help most” in the plan; until then wear a mask, for fine dust escapes.
air-dust_caught-wrong_machine = The wrong machine for this hood: { $hood } is made for a duct of { $duct } and wants { $needed }. With nothing attached the vacuum moves { $most } at most, so no hose and no fitting mends it.
    .many = The wrong machine for hoods made for a wide duct
    .do_many = Use a dust collector on these ports to catch the dust. The vacuum may still suck up chips. The fine dust stays out: wear a mask and clean the room's air.
    .brief = Put a dust collector on these ports, or wear a mask: no hose and no fitting mends it.
    .do = Use a dust collector on this port to catch the dust. { $still } The fine dust stays out: wear a mask and clean the room's air.
air-dust_caught-out_of_reach = Out of this vacuum's reach: { $hood } wants { $needed }. With nothing attached the vacuum moves { $most } at most, so no hose and no fitting mends it.
    .many = Out of this vacuum's reach
    .do_many = Closer hoods would need less air. The fine dust stays out: wear a mask and clean the room's air.
    .brief = Bring the hood closer, or wear a mask: no hose and no fitting mends it.
    .do = A closer hood would need less air. { $still } The fine dust stays out: wear a mask and clean the room's air.

air-still-carried = What the vacuum can still do: chips that reach the port are carried off through its narrower hose.
air-still-likely = What the vacuum can still do: chips that reach the port are likely carried off; lift the hose empty now and then.
air-still-by_hand = What the vacuum can still do: suck up chips by hand with a nozzle; through this port they may settle in the hose.

## What an orbital sander catches.

air-sanding = what its holes catch on flat work and at edges
air-sanding-edges = On flat work its holes catch about { $flat-low } to { $flat-high } of the dust; on edges and curves, where half of them draw from the open, about { $edge-low } to { $edge-high }.
    .do = Wear a mask for edges whatever the airflow, and sand them over a downdraft table or in front of an open box where you can.

## Chips carried: speed of the air.

air-chips_carried = whether the air carries what comes of { $operation } (slowest in the { $where })
air-chips_carried-good = Chips keep moving in the { $where }: { $had }, { $needed } needed; they begin to settle at { $settles }, and a long duct is given { $duct }. The longest, { $longest }, pass freely from { $free }; the narrowest place, { $part }, is { $passage } wide.
air-chips_carried-may_settle = What falls in may settle in the { $where }: { $had }, { $needed } needed; it begins to settle at { $settles }, and a long duct is given { $duct }.
    .many = What falls in may settle in the hose
    .do = { $run ->
        [branch] Close the gates that are not in use, and open this run now and then to clear it; a narrower or shorter run, or more airflow, makes that needless.
       *[hose] Feed the tool more slowly, and lift this hose to empty it now and then; a narrower or shorter hose, or more airflow, makes that needless.
    }
air-chips_carried-may_clog = Chips may jam where the way is narrowest ({ $part }, { $passage }): the longest are { $longest }, and pass freely from { $free }.
    .do = Take lighter cuts, which make shorter chips, and look at that place when the sound of the air changes; a wider way, or a hose straight to a collector, makes that needless.

air-run-hose = { $climbing ->
    [yes] { $run }, where it climbs
   *[no] { $run }
}
air-run-branch = { $climbing ->
    [yes] branch { $run }, where it climbs
   *[no] branch { $run }
}
air-branch = branch { $branch }
air-on_branch = { $tool } on branch { $branch }

# The one word of a verdict.
verdict-strong = strong
verdict-enough = enough
verdict-weak = weak
verdict-starved = starved
verdict-unknown = unknown

## What the suction curve rests on.

air-suction_curve = what its suction curve rests on
air-suction_curve-label = From label figures: in use a machine may give a third less air and a sixth less suction. Suction is taken down with the density of the room's air. Greatest air power: { $power }.
    .do = Make the home test: `kerfwind test-sheet` prints its page.
air-suction_curve-maker = From the maker's curve of a new machine: in use it gives up to a tenth less. Suction is taken down with the density of the room's air. Greatest air power: { $power }.
    .do = Make the home test: `kerfwind test-sheet` prints its page.
air-suction_curve-figures = From two figures measured on the machine, in the air of the room on that day. Greatest air power: { $power }.
air-suction_curve-points = From measured points, in the air of the room on that day. Greatest air power: { $power }.
air-suction_curve-home_test = From the home test, in the air of the room on that day. Greatest air power: { $power }.

air-air_power = its air power against what it is fed
    .do = Check the units of suction and airflow, and `amps` against the label; better, make the home test.
air-air_power-good = Its motor can give the air that its figures promise.
air-air_power-overrated = Its figures promise more air than shop vacuums get out of such a motor: what every tool gets is overrated with them.

## What is lost on the way, part by part.

air-loss = { $part }: { $what }
air-loss-smaller = smaller losses together

part-separator = separator
part-unit = unit

loss-hood-entry = hood entry
loss-step-down = step down
loss-step-up = step up
loss-inlet = inlet
loss-bend = bend
loss-bends = bends
loss-friction = friction
loss-cyclone = cyclone
loss-wye = wye
loss-floor-sweep = floor sweep
loss-open-end = open end
loss-clean-filter = clean filter
loss-used-filter = used filter
loss-clogged-filter = clogged filter

## After building: measured against predicted.

air-measured = measured against predicted suction
air-measured-good = Measured and predicted agree within their errors: { $readings }. By all that was measured, the airflow here is { $airflow }. The verdicts still stand as predicted.
air-measured-alone = Measured and predicted agree within their errors here: { $readings }. At another tool they do not, so nothing is corrected by it.
air-measured-apart = Measured and predicted are further apart than their errors allow: { $readings }. This would fit { $cause }, { $size }.
    .do = { $remedy } Then measure again.
air-measured-reading = { $what } { $measured }, predicted { $predicted }
air-measured-other = Or { $cause }, { $size }: { $remedy }

air-gauge = whether the home test's gauge can tell the suction at every port
air-gauge-coarse = On a gauge to { $gauge }, off by { $error } either way, these ports cannot be read: { $tools }.
    .do = After building, read these on a gauge to { $fine }, or on a clear hose bent to a U with water in it; what stands in it is no higher than its legs. Or read them with the hose held shut alone.
air-gauge-port = { $tool } { $suction }

suction-port = suction at the port
suction-held-shut = suction held shut

cause-leak = a leak between hose and vacuum
cause-clog = a clog in the hose
cause-blocked = a blocked hood or port
cause-filter = a clogged filter
cause-vacuum = a vacuum that differs from its figures
cause-bore = a port whose bore differs from the file's

remedy-leak = Hold the hose shut and listen along joints, lid and gates; seal what hisses.
remedy-clog = Drop a ball through the hose or look through it; clear it.
remedy-blocked = Clean pad, shroud or port.
remedy-filter = Clean or change the filter.
remedy-vacuum = Make the home test (`kerfwind test-sheet`).
remedy-bore = Measure the port again, inside.

air-cause-opening = an opening of about { $area }
air-cause-heads = as much as { $heads } velocity heads more
air-cause-resistance = { $pressure } more at { $airflow }
air-cause-of_curve = { $share } of what was taken
air-cause-of_bore = { $share } of the bore in the file

## Curves that cannot be.

air-curve-one_airflow =
    .found = one airflow
    .allowed = two different airflows or more
    .mend = Measure another point.
air-curve-below_zero =
    .found = an airflow or a suction that is no number from zero up
    .allowed = airflow and suction from zero up
    .mend = Measure again.
air-curve-never_falls =
    .found = { $last } at the greatest airflow and { $first } at the least
    .allowed = suction that falls as airflow grows
    .mend = Measure again, and look for a leak or a gauge read at the wrong place.
air-curve-too_deep =
    .found = up to { $deepest } of suction in a room of { $room }
    .allowed = up to { $most } of the room's pressure
    .mend = Check the suction's unit and the room's altitude.

## Plates and holes that no relation holds for.

air-orifice-plate_below_zero =
    .found = a thickness below zero
    .allowed = no thickness and up
    .mend = Measure the plate again.
air-orifice-plate_too_thick =
    .found = a plate { $found } of the hole's bore thick
    .allowed = up to { $most }
    .mend = Use a thinner plate or a larger hole.
air-orifice-hole_below_zero =
    .found = a hole of { $found } m
    .allowed = zero or more
    .mend = Measure the hole again.
air-orifice-suction =
    .found = a suction behind the plate that it cannot be
    .allowed = from zero to half the room's pressure
    .mend = Read the gauge again, and check its unit.

## Fixed branches that no air can pass.

air-branches-none =
    .found = no branch
    .allowed = one branch or more
    .mend = Add [[branches]] to the shop file.
air-branches-no_gate =
    .found = gate { $gate }, which is on no branch
    .allowed = { $known }
    .mend = Name one of these.
air-branches-all_shut =
    .found = no gate is open
    .allowed = one open gate or more
    .mend = Open one, or the vacuum only pulls on leaks.

## Runs that are no tree.

air-network-no_run =
    .found = no run
    .allowed = one run or more
    .mend = Give at least one that joins the vacuum.
air-network-no_name =
    .found = a run without a name
    .allowed = a name for each run
    .mend = Give each run a name of its own.
air-network-same_name =
    .found = two runs called { $run }
    .allowed = a name that no other run has
    .mend = Give each a name of its own.
air-network-joins_none =
    .found = run { $run } joins { $to }, which is no run here
    .allowed = the vacuum, or another run
    .mend = Name the run that it joins.
air-network-loop =
    .found = runs that go in a loop: { $loop }
    .allowed = runs that lead to the vacuum
    .mend = Let one of them join the vacuum.
air-network-impossible =
    .found = run { $run }, { $element }: { $value ->
        [bore] a bore of { $found }
        [loss-factor] a loss factor of { $found }
        [length] a length of { $found }
        [resistance] a resistance of { $found }
       *[roughness] a roughness of { $found }
    }
    .allowed = { $bound ->
        [above-zero] above zero and finite
       *[from-zero] zero or more, and finite
    }
    .mend = Give a value that can be.
air-network-joined_end =
    .found = run { $run } is joined by others and is said to be an open end too
    .allowed = one of the two
    .mend = Let the others join elsewhere, or no air enter there.
air-network-free_end =
    .found = run { $run } is open to the room without any loss
    .allowed = an entry that takes some pressure
    .mend = Give its entry.
air-network-unsettled =
    .found = a tree of runs that did not settle: its ways differ by { $gap } of the suction
    .allowed = runs in which all ways agree
    .mend = Join the runs in another way, or leave one out.
air-network-all_shut =
    .found = no gate is open, and nothing leaks
    .allowed = a way in for air
    .mend = Open a gate.

## Air at the face of a hood box.

air-face = { $reach ->
    [beyond] Through its face the air moves at { $had }; { $wanted } draws in what this work makes in the face. { $least } is still met { $distance } in front of it, and no further. Dust that is thrown faster than that flies past: wear a mask.
   *[not] Through its face the air moves at { $had }; { $wanted } draws in what this work makes in the face. This unit keeps up { $least } only over a face of { $side } square: make the opening smaller, or bring it closer to the dust. Dust that is thrown faster than that flies past: wear a mask.
}
