## Parts of the unit, its sides, and how it stands.
part-vacuum = vacuum
part-bucket = bucket
part-casters = casters
part-joints = joints
part-cart = cart
part-sheets = sheets

at-top = at the top
at-front = at the front
at-rear = at the rear
at-left = at the left
at-right = at the right

towards-front = to the front
towards-rear = to the rear
towards-left = to the left
towards-right = to the right

blows-top = upwards
blows-front = to the front
blows-rear = to the rear
blows-left = to the left
blows-right = to the right

size-by = { $wide } by { $long }

# The state a cart is judged in, as it stands in brackets behind a sentence.
state-as-built = as built
state-vacuum-lifted-out = vacuum lifted out
state-nothing-hung-on-it = nothing hung on it
state-bucket-empty = bucket empty
state-bucket-full = bucket full
state-bucket-full-vacuum-lifted-out = bucket full, vacuum lifted out
state-bucket-full-nothing-hung-on-it = bucket full, nothing hung on it
state-bucket-full-vacuum-lifted-out-nothing-hung-on-it = bucket full, vacuum lifted out, nothing hung on it

## The vacuum goes in and comes out.
cart-fit-width = goes in by its width
    .do = Measure the vacuum's width before cutting.
cart-fit-width-good = The bay leaves play for the vacuum's width.
cart-fit-width-tight = The bay is too tight for the vacuum's width.

cart-fit-depth = goes in by its depth
    .do = Measure the vacuum's depth before cutting.
cart-fit-depth-good = The bay leaves play for the vacuum's depth.
cart-fit-depth-tight = The bay is too tight for the vacuum's depth.

cart-fit-lift = comes out over the lipping
    .do = { $above ->
        [taper] Measure the bucket at top and floor, try its opening in scrap first, or leave the lipping loose.
       *[other] Measure the vacuum's height before cutting, or leave the lipping loose.
    }
cart-fit-lift-good = { $way ->
    [up] The vacuum lifts over the lipping and comes out straight up.
   *[front] The vacuum lifts over the lipping and comes out towards the front.
}
cart-fit-lift-low = There is too little height over the vacuum to lift it over the lipping.

cart-fit-lid = lid opens where it stands
    .do = Pull the hose off, lift the vacuum over the lipping and open it outside.
cart-fit-lid-good = The lid opens and the filter is in reach with the vacuum in place.
cart-fit-lid-outside = Take the vacuum out to open its lid and to clean the filter; it stays in reach.

## The bucket is held, and comes out.
cart-bucket-rim = body passes the opening, rim rests
    .do = { $measure ->
        [corner] Measure the radius of the box's upright corners before cutting the opening.
        [both] Measure the box over its rim, just under it, and the radius of its upright corners, before cutting the opening.
       *[sizes] Measure the bucket over its rim and just under it before cutting the opening.
    }
cart-bucket-rim-good = An opening of { $opening } passes the body and carries the rim all round.
cart-bucket-rim-wrong_size = The opening does not both pass the body and carry the rim.

cart-bucket-taper = wedges before its rim
    .do = Measure it at top and floor; try the opening in scrap first; or carry the rim.
cart-bucket-taper-good = The bucket wedges on its taper; it hangs between { $least } and { $most } below the shelf's top, a range of { $spread }, all kept clear.
cart-bucket-taper-slips = The bucket slips through to its rim.

cart-bucket-out = lifts out of the shelf with its lid
    .do = Take the lid with the cyclone off first, then lift the bucket.
cart-bucket-out-good = The ceiling leaves room to lift the bucket out with the cyclone on it.
cart-bucket-out-low_ceiling = The ceiling is too low to lift the bucket out with the cyclone on it.

cart-bucket-clear = hangs clear of the bottom
    .do = Measure the bucket up to its rim before cutting the uprights.
cart-bucket-clear-good = It hangs by its shelf alone.
cart-bucket-clear-rocks = It stands on the bottom before its shelf carries it, and rocks.

cart-bucket-lift = one person lifts it out full, with the cyclone on it
    .do = Take the cyclone off first and empty it half full, bag it where it stands, or lift it with a helper.
cart-bucket-lift-good = Full and with the cyclone on, it is within what one person lifts.
cart-bucket-lift-heavy = Full and with the cyclone on, it weighs about { $weight }; from where it stands to the floor one person should lift no more than { $most }.

cart-bucket-stands = a tug on the tool hose leaves the standing bucket in its place, unstrapped
    .do = Keep both straps tight whenever the vacuum runs or the cart rolls, and tie the tool hose to the cart, so that a tug pulls there.
cart-bucket-stands-good = It is heavy enough that a firm tug on the hose does not tip it off its cleats.
cart-bucket-stands-tips = { $stops ->
    [topples] The cleats keep it from sliding, not from tipping: without its straps, a tug of { $tug } on the hose at the cyclone pulls it over. If the cart stops dead from { $speed } or more, it can go over as well.
   *[stands] The cleats keep it from sliding, not from tipping: without its straps, a tug of { $tug } on the hose at the cyclone pulls it over.
}

cart-bucket-straps = the straps' screws hold the standing bucket against a firm tug on the hose
    .do = Bolt the loops through, with washers.
cart-bucket-straps-good = Two screws in each strap loop hold the bucket against a firm tug on the hose.
cart-bucket-straps-short_screws = The screws of the strap loops are too short for a firm tug on the hose.

## Wishes: footprint, door, height, bench.
cart-footprint-length = footprint front to back
    .do = Change the wish, or another form.
cart-footprint-length-good = Its depth, { $size }, is within the { $limit } wished for.
cart-footprint-length-over = Its depth, { $size }, is over the { $limit } wished for.

cart-footprint-width = footprint side to side
    .do = Change the wish, or another form.
cart-footprint-width-good = Its width, { $size }, is within the { $limit } wished for.
cart-footprint-width-over = Its width, { $size }, is over the { $limit } wished for.

cart-door = passes the narrowest door
    .do = { $door ->
        [assumed] Measure the door.
       *[measured] Change the wish, or another form.
    }
cart-door-good = Its narrower way, { $size }, passes a door { $limit } wide.
cart-door-over = Its narrower way, { $size }, does not pass a door { $limit } wide.

cart-height = height with the separator on
    .do = Measure bucket and cyclone, or allow more height.
cart-height-good = It stays under { $limit }.
cart-height-over = It may stand over { $limit }.

cart-room = stands under the room's ceiling with its link hose on
cart-room-good = With its link hose it is { $size } high, and the ceiling is { $ceiling }.
cart-room-low = It is { $size } high, even without its link hose, and the ceiling is { $ceiling }: it cannot stand in this room.
    .do = Choose a lower form, or a room with a higher ceiling.
cart-room-hose = With its link hose it is { $size } high, and the ceiling is { $ceiling }: it cannot work in this room.
    .do = Take a link hose that bends tighter, a lower form, or a room with a higher ceiling.

cart-door-hose = passes the narrowest door with its link hose
cart-door-hose-over = Its link hose stands out in front, { $size } over all: the wood passes the door, the hose does not.
    .do = Press the hose in, or pull it off, where it goes through.

cart-height-hose = height with the link hose
    .do = Where it must pass under something, pull the link hose off first, or take one that bends tighter.
cart-height-hose-good = With its link hose it is { $size } high, and stays under { $limit }.
cart-height-hose-over = The link hose stands higher than the rest, to { $size }: over { $limit }.

cart-footprint-hose = footprint front to back with the link hose
    .do = Leave room for the hose in front, or pull it off where the cart is put away.
cart-footprint-hose-good = With its link hose in front it is { $size } deep, within { $limit }.
cart-footprint-hose-over = The link hose stands out in front, to { $size } in all: over { $limit }.

cart-under_bench = passes under the bench with everything on
cart-under_bench-good = It passes under the bench as it stands, hose and all.
cart-under_bench-high_with_separator = With separator and hose on it is { $height } high, too high for the bench: the { $highest } stands in the way.
    .do = { $lower ->
        [yes] Pull the link hose off and lift bucket and cyclone out together first; or take a { $shape ->
            [drum] drum
            [box] box
           *[bucket] bucket
        } at most { $least } high.
       *[no] Pull the link hose off and lift bucket and cyclone out together first.
    }
cart-under_bench-high = With separator and hose on it is { $height } high, too high for the bench: the { $highest } stands in the way.
    .do = Raise the bench to { $raised }, or park it beside the bench.

cart-under_bench-lifted_out = passes under the bench, separator lifted out
    .do = { $lower ->
        [yes] This is the nearest cart: raise the bench to { $raised }, take a vacuum at most { $least } high, or give up parking under it (`wishes.under_bench`).
       *[no] This is the nearest cart: raise the bench to { $raised }, or give up parking under it (`wishes.under_bench`).
    }
cart-under_bench-lifted_out-good = { $separator ->
    [yes] With bucket and cyclone lifted out it is { $height } high and passes.
   *[no] It is { $height } high and passes.
}
cart-under_bench-lifted_out-high = { $separator ->
    [yes] It does not go under the bench: even with bucket and cyclone lifted out it is { $height } high, and { $highest ->
        [vacuum] the vacuum
       *[wood] its frame
    } stands in the way.
   *[no] It does not go under the bench: it is { $height } high, and { $highest ->
        [vacuum] the vacuum
       *[wood] its frame
    } stands in the way.
}

## How it stands and rolls.
cart-tilt-front = stands on a { $slope } slope that falls to its front, wheels trailed worst
    .do = Lower the separator, widen the base, or set heavy things deeper in it.
cart-tilt-front-good = It overturns to the front only beyond { $beyond } (worst: { $worst }).
cart-tilt-front-overturns = It can overturn to the front on a slope of { $beyond } (worst: { $worst }).

cart-tilt-rear = stands on a { $slope } slope that falls to its rear, wheels trailed worst
    .do = Set the base deeper, or move the separator forward.
cart-tilt-rear-good = It overturns to the rear only beyond { $beyond } (worst: { $worst }).
cart-tilt-rear-overturns = It can overturn to the rear on a slope of { $beyond } (worst: { $worst }).

cart-tilt-left = stands on a { $slope } slope that falls to its left, wheels trailed worst
    .do = Widen the base.
cart-tilt-left-good = It overturns to the left only beyond { $beyond } (worst: { $worst }).
cart-tilt-left-overturns = It can overturn to the left on a slope of { $beyond } (worst: { $worst }).

cart-tilt-right = stands on a { $slope } slope that falls to its right, wheels trailed worst
    .do = Widen the base.
cart-tilt-right-good = It overturns to the right only beyond { $beyond } (worst: { $worst }).
cart-tilt-right-overturns = It can overturn to the right on a slope of { $beyond } (worst: { $worst }).

cart-casters-load = one caster carries its share with another lifted
    .do = Choose casters rated higher.
cart-casters-load-good = Each caster is rated for more than it ever carries, one wheel lifted.
cart-casters-load-over = With one wheel lifted, two others carry nearly all: more than they are rated for.

cart-outriggers-stress = its arms carry a wheel beyond the bottom
    .do = Make the outriggers shorter, or of thicker plywood.
cart-outriggers-stress-good = The outriggers hold the wheel that carries most, trailed outward.
cart-outriggers-stress-overloaded = The outriggers bend more than plywood is allowed under the wheel that carries most.

cart-casters-screws = two screws of a plate hold when one wheel stops a one-handed push
    .do = Bolt the casters through block and bottom, with washers.
cart-casters-screws-good = The screws of a caster's plate hold a one-handed push against a stopped wheel.
cart-casters-screws-short_screws = The screws of a caster's plate are too short to hold against a stopped wheel.

cart-push-handle = a push at the handle with a wheel against something
    .do = Push it low, near the vacuum, and look where the wheels go.
cart-push-handle-good = It takes more than a one-handed push to tip it over a blocked wheel.
cart-push-handle-tips = With a wheel blocked, a push of { $push } at the handle tips it { $side } ({ $state }).

cart-push-tug = a tug on the tool hose, wheels held
    .do = { $tied ->
        [low] Let the hose lie on the floor, and do not pull the cart by it.
       *[port] Tie the tool hose low on the cart, just above its bottom (`hose_anchor = "low"`), so that a tug pulls there.
    }
cart-push-tug-good = { $tied ->
    [low] Tied low, a firm tug on the tool hose does not tip it.
   *[port] A firm tug on the tool hose does not tip it.
}
cart-push-tug-tips = A tug of { $tug } on the tool hose tips it { $side } ({ $state }).

cart-push-blocked = the pull of a stretchy hose whose port is blocked, wheels held
    .do = { $tied ->
        [low] Leave the casters' brakes off while you work: then it rolls towards you.
       *[port] Tie the tool hose low on the cart, just above its bottom (`hose_anchor = "low"`).
    }
cart-push-blocked-good = With its port blocked this hose draws itself together with { $pull }, and does not tip the cart.
cart-push-blocked-tips = With its port blocked this hose draws itself together with { $pull }, and tips the cart { $side } ({ $state }).

cart-push-stumble = its wheels stop dead at a cord or scrap while it is pushed at a walk
    .do = { $bucket ->
        [full] Push it slowly and keep cords and scraps off the floor. Empty the bucket before moving.
       *[not_full] Push it slowly and keep cords and scraps off the floor.
    }
cart-push-stumble-good = Pushed at a walk against a cord, it rocks but does not go over.
cart-push-stumble-goes_over = If its wheels stop dead, it can go over { $side } from { $slow } up ({ $state }); a walk is { $slowest } to { $fastest }.

cart-push-threshold = rolls over a door's threshold at a walk
    .do = Lift one end over at a time, or choose larger wheels.
cart-push-threshold-good = At a walk its wheels roll over a step of { $climbs }, more than a threshold.
cart-push-threshold-stops = At a walk its wheels roll over { $climbs } and stop at anything higher.

cart-steadied = what makes it stand firmly
cart-steadied-good = To stand firmly it has: { $done }.
cart-steadied-as_it_is = It stands firmly as small as it can be.
cart-steadied-one_wish = One wish keeps it from passing ({ $checks }). With { $changes } it passes them all{ $dear ->
    [yes] , for about { $costs } more
   *[no] {""}
}.
    .do = { $door ->
        [yes] Where it can go by such a door, write that door in the shop file; or push it slowly and tie its hose low.
       *[no] Change that wish in the shop file, or push it slowly and tie its hose low.
    }
cart-steadied-several = Several wishes together keep it from passing ({ $checks }). With { $changes } it passes them all{ $dear ->
    [yes] , for about { $costs } more
   *[no] {""}
}.
    .do = { $door ->
        [yes] Where it can go by such a door, change all of these in the shop file; or push it slowly and tie its hose low.
       *[no] Change all of these in the shop file, or push it slowly and tie its hose low.
    }
cart-steadied-none = No wish that was tried lets it pass ({ $checks }).
    .do = `kerfwind size` looks at every form and hold; a lower or heavier vacuum, or a smaller bucket, helps most.

checks-steady-wider = a bottom { $by } wider than it must be
checks-steady-deeper = { $by } more of it behind
checks-steady-ahead = { $by } more of it in front
checks-steady-arms = wheels set out { $by } at either side on outriggers
checks-steady-ballast = { $mass } of ballast in a tray under the bottom
checks-steady-tied = the tool hose tied low
checks-steady-change = { $wish } changed to { $to }

check-cart-tilt-front = the slope to the front
check-cart-tilt-rear = the slope to the rear
check-cart-tilt-left = the slope to the left
check-cart-tilt-right = the slope to the right
check-cart-push-handle = a push at the handle
check-cart-push-tug = a tug on the hose
check-cart-push-blocked = the pull of a blocked hose
check-cart-push-stumble = wheels that stop dead at a walk

anchor-low = low
hold-rim = by its rim
hold-standing = standing

## The link hose.
cart-hose-bend = bends wider than where it kinks
    .do = Put an elbow on the outlet or the inlet, or use a hose that bends tighter.
cart-hose-bend-good = Its tightest bend is { $radius } in radius.
cart-hose-bend-kinks = A bend of { $radius } in radius may kink it.

cart-hose-length = long enough from separator to vacuum
    .do = Get { $needed } of hose of the same bore.
cart-hose-length-good = { $needed } of it are needed.
cart-hose-length-short = The way from separator to vacuum takes { $needed } of hose.

## The motor's air.
cart-air_in = motor breathes in freely { $side }
    .do = Turn the vacuum, or check `vacuum.air_in_on`: a motor that cannot breathe overheats.
cart-air_in-good = Where it breathes in, { $side }, nothing stands within { $needed }.
cart-air_in-shut_in = Where it breathes in, { $side }, wood stands within { $gap }.

cart-air_out = motor breathes out freely { $side }
    .do = Turn the vacuum, or check `vacuum.air_out_on`: a motor that cannot breathe overheats.
cart-air_out-good = Where it breathes out, { $side }, nothing stands within { $needed }.
cart-air_out-shut_in = Where it breathes out, { $side }, wood stands within { $gap }.

cart-exhaust-floor = exhaust does not stir dust off the floor
    .do = Turn the vacuum so that it blows where nothing stands, or stand a deflector before the vents: a board leaning by 45° that turns the air up, no nearer than { $clear }. Sweep with the vacuum, not before it.
cart-exhaust-floor-good = { $to ->
    [top] It blows { $blows } about { $height } above the floor, away from the dust on it.
   *[side] It blows { $blows } about { $height } above the floor, away from the dust on it. A wall close by would turn it down: park that side clear.
}
cart-exhaust-floor-turned_down = It blows { $blows } about { $height } above the floor, and wood stands { $wood } in front of it and turns it down.
cart-exhaust-floor-lifts_dust = It blows { $blows } about { $height } above the floor: fast enough down there to lift dust.

cart-exhaust-person = exhaust is not aimed at whoever works or pushes
cart-exhaust-person-spread = { $known ->
    [assumed] It blows { $blows }, where wood close by spreads it. But where it blows was assumed.
   *[known] It blows { $blows }, where wood close by spreads it.
}
cart-exhaust-person-clear = { $known ->
    [assumed] It blows { $blows }; you stand in front of it to work and { $hands } to push. But where it blows was assumed.
   *[known] It blows { $blows }; you stand in front of it to work and { $hands } to push.
}
cart-exhaust-person-at_pusher = { $known ->
    [assumed] It blows { $blows }, where you stand to push: about { $speed } at a metre, { $height } above the floor, and with it the dust that its filter lets through. But where it blows was assumed.
   *[known] It blows { $blows }, where you stand to push: about { $speed } at a metre, { $height } above the floor, and with it the dust that its filter lets through.
}
    .do = { $turn ->
        [yes] Turn the vacuum so that it blows { $free }, or put a deflector before the vents: a board leaning by 45° that turns the air up, no nearer than { $clear }. Or switch it off before you push it.
       *[no] Put a deflector before the vents: a board leaning by 45° that turns the air up, no nearer than { $clear }. Or switch it off before you push it.
    }
cart-exhaust-person-at_worker = { $known ->
    [assumed] It blows { $blows }, where you stand to work: about { $speed } at a metre, { $height } above the floor, and with it the dust that its filter lets through. But where it blows was assumed.
   *[known] It blows { $blows }, where you stand to work: about { $speed } at a metre, { $height } above the floor, and with it the dust that its filter lets through.
}
    .do = { $turn ->
        [yes] Turn the vacuum so that it blows { $free }, or put a deflector before the vents: a board leaning by 45° that turns the air up, no nearer than { $clear }.
       *[no] Put a deflector before the vents: a board leaning by 45° that turns the air up, no nearer than { $clear }.
    }

## The bucket under the vacuum's sealed suction.
cart-collapse-wall = { $shape ->
    [round] its wall stands a blocked port
   *[box] its flat walls stand a blocked port
}
    .do = { $guard ->
        [both] Set `separator.rings` to { $rings }: { $rings ->
            [one] a plywood ring half way up inside
           *[other] so many plywood rings inside, evenly spaced,
        } keeps the wall in shape. Or fit a relief valve that opens at { $opens } and lets in { $passes }; it stays shut at every tool here.
        [rings] Set `separator.rings` to { $rings }: { $rings ->
            [one] a plywood ring half way up inside
           *[other] so many plywood rings inside, evenly spaced,
        } keeps the wall in shape. A relief valve would have to open while a tool runs.
        [valve] Fit a relief valve that opens at { $opens } and lets in { $passes }, and write it as `separator.valve`; it stays shut at every tool here.
       *[none] Rings, frames and valves were tried, and none is enough: take another bucket with a stiffer wall, such as a steel drum, and until then never let a port or hose block.
    }
# Never more than theory, and never called good: the outcome is `theory` then.
cart-collapse-wall-good = By theory the wall stands it; only a trial tells.
cart-collapse-wall-theory = { $shape ->
    [round] By the formula for a tube the wall stands { $stands } for some seconds, and a blocked port pulls with { $pull }; only a trial tells.
   *[box] By the theory of flat plates its walls stand { $stands } for some seconds, and a blocked port pulls with { $pull }; only a trial tells.
}
    .do = Try it: hold the hose shut for three seconds at most and watch the wall. If it moves, let go: it wants a ring inside (`separator.rings`) or a relief valve (`separator.valve`).
cart-collapse-wall-unsettled = { $shape ->
    [round] Whether the wall stands a blocked port is not settled: it stands { $stands } by theory, and a blocked port pulls with { $pull }.
   *[box] Whether its walls stand a blocked port is not settled: they stand { $stands } by theory, and a blocked port pulls with { $pull }.
}
cart-collapse-wall-buckles = The wall may be sucked in as soon as a hose or port blocks: by theory it stands { $stands }, and a blocked port pulls with { $pull }.
cart-collapse-wall-dishes = A blocked port pulls with { $pull } and draws its widest wall in by { $gives } if its edges keep their distance, and by more where corners and rim give: past what the theory of flat walls tells, and the lid may let go.

cart-collapse-running = its wall stands while a tool runs
    .do = { $guard ->
        [both] Set `separator.rings` to { $rings }, which was tried and holds.
        [rings] Set `separator.rings` to { $rings }, which was tried and holds.
        [valve] Fit a relief valve that opens at { $opens }.
       *[none] Give these tools a wider or shorter way, which takes less suction, or take a bucket with a stiffer wall.
    }
# Never more than theory, and never called good: the outcome is `theory` then.
cart-collapse-running-good = By theory the wall stands every tool that runs.
cart-collapse-running-theory = By theory the wall stands { $stands } while a tool runs for an hour; it is pulled most at the { $tool }, with { $pull }.
    .do = Watch the wall the first time that tool runs.
cart-collapse-running-unsettled = Whether the wall stands at the { $tool } is not settled: it is pulled with { $pull } there and stands { $stands } by theory.
cart-collapse-running-drawn_in = The wall may be drawn in while these tools run: { $tools }. At the { $tool } it is pulled with { $pull }, and stands { $stands } by theory.

cart-collapse-lid = flat lid under the suction of a blocked port
cart-collapse-lid-dishes = A blocked port presses the lid down with { $force }: a flat lid dishes in before the wall does.
    .do = { $holds ->
        [yes] { $shape ->
            [round] Set `separator.backed_lid` to true: a plywood disc on the lid, under the cyclone's flange, rests on the rim and carries it.
           *[box] Set `separator.backed_lid` to true: a board as large as the lid, under the cyclone's flange, rests on the rim and carries it.
        }
       *[no] Plywood of this thickness would bend too far over a lid of this size: take a bucket with a smaller or a ribbed lid, and never let a port block.
    }
cart-collapse-lid-bends = A blocked port presses the lid down with { $force }, more than its backing of this thickness may carry.
    .do = Use thicker plywood, or a bucket with a smaller lid.
cart-collapse-lid-backed = A blocked port presses the lid down with { $force }, which its backing carries to the rim.

## Shelf, bottom and joints.
cart-shelf-sag = sag under a full bucket after years
    .do = { $sheet ->
        [second] Leave `shelf` out of `wishes.second_panels`, or add a cleat under its front edge.
       *[first] Use thicker plywood, or add a cleat under its front edge.
    }
cart-shelf-sag-good = It sags between { $firm } and { $loose }, as the sides hold it more loosely or firmly.
cart-shelf-sag-sags = It sags between { $firm } and { $loose } under a full bucket: enough to see.

cart-shelf-stress = bending stress beside the opening
    .do = { $sheet ->
        [second] Leave `shelf` out of `wishes.second_panels`, or leave more wood around the opening.
       *[first] Use thicker plywood, or leave more wood around the opening.
    }
cart-shelf-stress-good = The wood beside the opening is far from its strength.
cart-shelf-stress-overloaded = The wood beside the opening is loaded beyond what plywood takes for long.

cart-shelf-slide = a sideways push with both hands does not slide the shelf off, glue left out
    .do = Glue it, and use every screw.
cart-shelf-slide-good = { $held-by ->
    [wood] Without any glue, the shelf stays on its uprights: wood bears on wood in its grooves.
   *[screws] Without any glue, the shelf stays on its uprights: its screws hold it.
}
cart-shelf-slide-shallow = By the numbers its screws hold the shelf, but pocket screws go less deep than the design standard asks before it gives a value.
    .do = Glue every pocket joint; do not trust to the screws alone.
cart-shelf-slide-slides = Without glue, a push could slide the shelf off its uprights.

cart-bottom-sag = sag between its casters after years
    .do = Use thicker plywood, or glue and screw a batten on edge under it, clear of the wheels.
cart-bottom-sag-good = It sags too little to see.
cart-bottom-sag-sags = It may sag { $sag } under the vacuum and what stands on it: enough to see.

cart-racking = screws of the rails keep it square against any sideways push that does not tip it
    .do = Glue the rails, use wider rails, or add a third one.
cart-racking-good = The rails' screws alone, without the glue, keep it square up to the push that would tip it.
cart-racking-leans_on_glue = The rails' screws alone do not keep it square; it leans on its glue.

cart-joints-kept = every joint is of the kind that was wished for
cart-joints-kept-end_grain = { $count } of { $all } joints keep their screws through the face. { $why }.
    .do = Drive these screws as drawn; glue alone would not hold there.
cart-joints-kept-no_room = { $count } of { $all } joints keep their screws through the face. { $why }.
    .do = Drive these screws as drawn; plug the heads where they show.

cart-joints-faces = screws between two faces bite deep enough to hold them without glue
cart-joints-faces-glue_carries = The longest screw on sale that does not come through bites only { $bite }. { $joints }: glue carries, and the screws only draw it together.
    .do = Spread glue over the whole of both faces, clamp them beside the screws until it has set, and drive these screws by hand: screws as short as these strip.

checks-joints-pair = { $first } to { $second }
checks-joints-some = { $others ->
    [0] { $joints }
    [one] { $joints } and { $others } other
   *[other] { $joints } and { $others } others
}
checks-joints-why = { $joints }: { $why }

## Why a joint keeps its screws through the face.
kept-narrow-lipping = a lipping is too narrow to be grooved
kept-end-grain = it carries, and end grain takes too little glue
kept-thin-plywood = the plywood is too thin for pockets
kept-narrow-panel = the panel is too narrow behind the edge for pockets
kept-points-near-edge = the screws' points would come too near an edge
kept-no-room = other parts leave no room for two pockets

## A table of vacuums and buckets that cannot be read.
checks-sizes-no_size =
    .found = nothing
    .allowed = { $of ->
        [mass] a mass with its unit, such as `8.5 kg`
       *[length] a length with its unit, such as `18-1/2 in`
    }
    .mend = Measure it and fill it in.
checks-sizes-slip =
    .found = `{ $given }`
    .allowed = from { $least } to { $most }
    .mend = Check the unit.
checks-sizes-no_row =
    .found = no row
    .allowed = a row for each vacuum and bucket
    .mend = Add one.
checks-sizes-many_rows =
    .found = { $rows } rows
    .allowed = at most { $most }
    .mend = Split the table.
checks-sizes-no_name =
    .found = nothing
    .allowed = a name
    .mend = { $row ->
        [vacuum] Name the vacuum.
       *[bucket] Name the bucket.
    }
checks-sizes-not_printed =
    .found = `{ $given }`
    .allowed = what can be printed
    .mend = { $char ->
        [control] Take out a control character, { $code }.
       *[invisible] Take out an invisible character, { $code }.
    }
checks-sizes-named_twice =
    .found = a second `{ $name }`
    .allowed = a name of its own
    .mend = Rename one.
checks-sizes-two_shapes =
    .found = `{ $across }` and `{ $side }`
    .allowed = diameters of a round one, or widths and lengths of a box
    .mend = Take out those of the other kind.
checks-sizes-narrow_rim =
    .found = `{ $rim }` on a body of `{ $body }`
    .allowed = a rim as wide as the body under it, or wider
    .mend = Measure both again.
checks-sizes-deep_rim =
    .found = `{ $drop }` on a height of `{ $height }`
    .allowed = from the rim's top to the underside of its lowest rib
    .mend = Measure it again.
checks-sizes-no_file =
    .found = { $why }
    .allowed = a CSV or TOML file
    .mend = Check the name and that it may be read.
checks-sizes-too_long =
    .found = { $given ->
        [0] more bytes than that
       *[other] { $given } bytes
    }
    .allowed = at most { $most }
    .mend = Split the table.
checks-sizes-not_text =
    .found = bytes that are not text
    .allowed = UTF-8 text
    .mend = Save it as CSV in UTF-8.
checks-sizes-column =
    .found = `{ $given }`
    .allowed = { $allowed }
    .mend = Rename it or take it out.
checks-sizes-no_column =
    .found = no such column
    .allowed = { $allowed }
    .mend = Add a column `{ $needed }` to the first row.
checks-sizes-cells =
    .found = { $given } cells
    .allowed = { $wanted } as in the first row
    .mend = Put cells that hold `{ $delimiter }` in quotes.
checks-sizes-kind =
    .found = `{ $given }`
    .allowed = `vacuum`, `bucket`
    .mend = Say which of the two it is.
checks-sizes-no_kind =
    .found = nothing
    .allowed = `vacuum`, `bucket`
    .mend = Say which of the two it is.
checks-sizes-not_csv =
    .found = { $why }
    .allowed = CSV with matching quotes
    .mend = Write `"` inside quotes as `""`.
checks-sizes-section =
    .found = `{ $given }`
    .allowed = `vacuums`, `buckets`
    .mend = Rename it or take it out.
checks-sizes-no_tables =
    .found = `{ $given }`
    .allowed = tables `[[{ $table }]]`
    .mend = Write it so.
