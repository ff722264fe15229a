## Fittings, by what they are called on the shelf.
fitting-band-clamp = band clamp

## What is made to measure.
fitting-printed_reducer = printed reducer
fitting-stepped_cuff = stepped rubber cuff

hookup-made-printed = printed reducer, { $first } to { $last }
hookup-made-cut = stepped rubber cuff, cut for { $first } and { $last }

hookup-ring = { $way ->
    [wider] test ring for { $mates }, { $step } wider
    [narrower] test ring for { $mates }, { $step } narrower
   *[as_designed] test ring for { $mates }, as designed
}

hookup-board = { $made ->
    [hood-box] { $tool } hood box
   *[plate] { $tool } plate
}
hookup-bored = { $made ->
    [hood-box] a hood box with a bored hole
   *[plate] a plate with a bored hole
}

## Ends that are joined.
hookup-port = { $tool } port
hookup-end-tool = { $hose }, tool end
hookup-end-unit = { $hose }, unit end
hookup-end-separator = { $hose }, separator end
hookup-end-vacuum = { $hose }, vacuum end

end-separator-inlet = separator inlet
end-separator-outlet = separator outlet
end-vacuum-inlet = vacuum inlet

# An end's diameter, as a thing to measure.
hookup-size = { $side ->
    [inside] { $end ->
        [port] the inside diameter of the { $owner }'s port
        [tool_end] the inside diameter of the { $owner }'s tool end
        [unit_end] the inside diameter of the { $owner }'s unit end
        [end_a] the inside diameter of the { $owner }'s end a
        [end_b] the inside diameter of the { $owner }'s end b
        [outlet] the inside diameter of the { $owner }'s outlet
       *[inlet] the inside diameter of the { $owner }'s inlet
    }
   *[outside] { $end ->
        [port] the outside diameter of the { $owner }'s port
        [tool_end] the outside diameter of the { $owner }'s tool end
        [unit_end] the outside diameter of the { $owner }'s unit end
        [end_a] the outside diameter of the { $owner }'s end a
        [end_b] the outside diameter of the { $owner }'s end b
        [outlet] the outside diameter of the { $owner }'s outlet
       *[inlet] the outside diameter of the { $owner }'s inlet
    }
}

## How two ends hold.
fit-press = press
fit-slip = slip
fit-locks = locks
fit-needs-clamp = needs clamp
fit-needs-tape = needs tape or bushing
fit-loose = loose
fit-won-t-go = won't go

hookup-miss = { $way ->
    [wide] the nearest miss is { $by } too wide
   *[tight] the nearest miss is { $by } too tight
}
hookup-miss-no_size = { $decides ->
    [both-over] no size would mend it (both are made to go over the other part)
    [both-into] no size would mend it (both are made to go into the other part)
   *[own-mate] no size would mend it (a thread or lock holds in its own mate alone)
}

## Chains of fittings.
hookup-joined = Joined by { $pieces }.
hookup-joined-straight = It goes straight on ({ $fit }).

hookup-chain = { $start } joins { $finish }
hookup-chain-good = { $joined }
hookup-chain-unmeasured = { $joined } But this rests on sizes nobody has measured: { $sizes }.
    .many = Joined, but by sizes that nobody has measured
    .do_many = Measure these ends before you buy or print anything.
    .do = Measure { $sizes } before you buy or print anything.
hookup-chain-in_store = { $joined }
    .many = Joined, once the piece is tried on in the store
    .do = Take the size with you to the store: the name on the shelf is no measurement.
hookup-chain-close = { $joined }
    .many = Joined, but close to not fitting
    .do_many = Measure the ends that meet there more closely.
    .do = Measure { $one } and { $other } more closely.
hookup-chain-misses = { $one } on { $other }: { $fit }, { $miss }.
    .do = Measure both ends again, or print a reducer.
hookup-chain-apart = Nothing owned, on sale or printed joins them: { $miss }.
    .do = Measure both ends again; a thread or lock needs its own mate.

hookup-no_hose = can be joined
hookup-no_hose-tool = No hose goes to the tools.
    .do = Add a [[hoses]] with use = "tool" and its two ends.
hookup-no_hose-link = No hose links separator and vacuum.
    .do = Add a [[hoses]] with use = "link" and its two ends.

part-tools = tools
part-hoses = hoses
part-fittings = fittings

# A chain in one line: each piece with where it comes from, and how each joint holds.
hookup-piece = { $origin ->
    [owned] { $piece } (owned)
    [buy] { $piece } (to buy)
    [cut] { $piece } (to buy and cut)
   *[print] { $piece } (to print)
}
hookup-to_make = { $made ->
    [hood-box] hood box (to make)
   *[plate] plate (to make)
}
hookup-nothing_joins = nothing joins it yet
hookup-joint = { $way ->
    [into] { $upstream } into { $downstream }: { $fit }
    [over] { $upstream } over { $downstream }: { $fit }
   *[to] { $upstream } to { $downstream }: { $fit }
}

## The best answer and others.
hookup-way = { $about }: { $pieces }
hookup-way-apart = { $about }: nothing joins it

hookup-in_air = the best chains in air
hookup-in_air-turned = With every loss counted, what came second by a first estimate is better, and is taken: { $tools }.
hookup-in_air-other_better = The second-best answer is better in air: { $tools }.
    .do = Take it if that air is worth its price and bother to you; the plan shows both.
hookup-air_at = { $tool } { $taken }, by the other { $other }

## Which hose, and from where it reaches.
hookup-hoses = which hose for each tool
hookup-hoses-out_of_reach = Not chosen from, since no free spot lets them reach: { $left }.
hookup-hoses-more_moves = { $spots ->
    [one] On other hoses, { $others }, { $other-spots } spots would do in place of { $spots } spot; but that adds more in fittings, air and bother than the moves are worth.
   *[other] { $other-spots ->
        [one] On other hoses, { $others }, { $other-spots } spot would do in place of { $spots } spots; but that adds more in fittings, air and bother than the moves are worth.
       *[other] On other hoses, { $others }, { $other-spots } spots would do in place of { $spots } spots; but that adds more in fittings, air and bother than the moves are worth.
    }
}
hookup-hoses-fewest_moves = { $spots ->
    [one] Chosen by reach: { $spots } spot to park at, where { $other-spots } would be needed with { $others }.
   *[other] Chosen by reach: { $spots } spots to park at, where { $other-spots } would be needed with { $others }.
}
hookup-hoses_at = { $hoses } at the { $tool }
hookup-hose_for = { $tool } ({ $hose })

hookup-reach = { $hose } reaches it from its parking spot
hookup-reach-good = The hose reaches it.
    .many = The hose likely reaches it
hookup-reach-short = The hose is too short from this spot.
    .many = The hose is too short from this spot
    .do = Park nearer, or take a longer hose.

hookup-no_spot = { $hose } reaches it
    .do = Take a longer hose, or move the tool.
hookup-no_spot-none = No free spot in the room lets the hose reach it.
hookup-no_spot-cord = No free spot in the room lets the hose reach it while the cord reaches an outlet.

## Where a fitting lives.
home-loose = loose, in a box by the cart
hookup-home = on the { $keeper }

## To stand wherever a printed part is proposed.
hookup-print-charge = Dust rubbing along plastic charges it: a spark may jump to your hand. A grounded wire along it drains only what it touches: see “Static” among the cautions.
hookup-print-heat = Printed plastic softens in heat: PLA from about 55 °C (130 °F), PETG from about 75 °C (165 °F). Keep it off hot motors, heaters and a parked car's sill.
hookup-print-sparks = Never draw sparks, embers or hot swarf through a printed part.
hookup-print-layers = Look at it now and then: layers part with knocks, and a piece drawn in can break the fan.

## The page of measuring aids.
hookup-measure-print = Print at 100 %, not fitted to the page, and lay a steel rule on the printed ruler first: if they differ, measure nothing with this page.
hookup-measure-outside = Outside: wrap the strip square round the end at its very mouth, pull it snug, and read where the plain end meets the scale.
hookup-measure-inside = Inside: cut out the step card and push it square into the mouth; the size of the last step that goes in is the inside diameter, to that step.
hookup-measure-taper = A tapered end is measured at its mouth. Measure it again 20 mm (3/4 in) in: if the two differ, that is its taper.
hookup-measure-soft = Soft or oval ends: measure twice, a quarter turn apart, and write both as a range.

measuring-title = Measuring ports, hoses and fittings
measuring-ruler = Must measure { $length }
measuring-strip = { $unit ->
    [mm] { $ends ->
        [small] Strip for outside diameter, small ends, in half millimetres
        [large] Strip for outside diameter, large ends, in half millimetres
       *[all] Strip for outside diameter, in half millimetres
    }
   *[in] { $ends ->
        [small] Strip for outside diameter, small ends, in 64ths of an inch
        [large] Strip for outside diameter, large ends, in 64ths of an inch
       *[all] Strip for outside diameter, in 64ths of an inch
    }
}
measuring-piece = { $strip }, piece { $number } of { $pieces }
measuring-card = { $ends ->
    [small] { $unit ->
        [mm] inside diameter, small ends, mm
       *[in] inside diameter, small ends, in
    }
    [large] { $unit ->
        [mm] inside diameter, large ends, mm
       *[in] inside diameter, large ends, in
    }
   *[all] { $unit ->
        [mm] inside diameter, mm
       *[in] inside diameter, in
    }
}

measuring-foot = Print at 100 %, not fitted to the page
measuring-tape = Tape its first { $overlap } over the end of the piece before, edge on edge.
measuring-cut_here = cut here: this end is laid on the scale
measuring-end = Where to measure an end: at its very mouth, outside and inside, and once more further in.
measuring-large_card = Step card, { $card }: cut along the outline, push the narrow side in.
measuring-cards = Step cards for inside diameters: cut along the outline, push the narrow tip in.

## A light hose in the hand against more air.

hookup-hand_hose = the hose on tools held in the hand
hookup-hand_hose-light = Tools held in the hand hang on the { $hose }, whose bore of { $bore } is light to carry, and get less air for it: { $tools }.
    .do = Where air matters more than the hand, name the { $other } as `hose` of that tool, or set `weights.hanging` lower. Hold the hose up by a line from above, and a wide one drags less.
hookup-hand_hose-heavy = Tools held in the hand hang on the { $hose }, whose bore of { $bore } is heavy to carry; the { $other }, { $other-bore }, is lighter: { $tools }.
    .do = Where the hand matters more than air, name the { $other } as `hose` of that tool, or set `weights.hanging` higher. Hold the hose up by a line from above, and it drags less.
hookup-hand_hose-tool = { $tool } { $had }, on the other up to { $other }
