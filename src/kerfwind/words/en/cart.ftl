## What stands against a form of cart.
cart-refused-narrow_rim =
    .found = a rim of { $rim } on a body of { $body }
    .allowed = a rim wide enough to rest on wood all round
    .mend = Let the bucket stand on the shelf instead.
cart-refused-hardly_tapers =
    .found = `taper` with a bucket that hardly tapers
    .allowed = `rim` or `standing`
    .mend = Carry it by its rim.

cart-refused-too_thin =
    .found = a thickness of { $thickness }
    .allowed = { $least } to { $most }
    .mend = Choose thicker plywood: its edge must take a screw.
cart-refused-too_thick =
    .found = a thickness of { $thickness }
    .allowed = { $least } to { $most }
    .mend = Choose thinner plywood.
cart-refused-too_thin_for_pockets =
    .found = { $pair ->
        [unlike] `pocket hole` in plywood of { $thickness } into { $into }
       *[alike] `pocket hole` in plywood of { $thickness }
    }
    .allowed = plywood thick enough for a slanted screw with wood under its head and before its point
    .mend = { $mixed ->
        [yes] Screw through the faces instead, leave `{ $role }` out of `wishes.second_panels`, or choose 15 mm (5/8 in) plywood or thicker.
       *[no] Screw through the faces instead, or choose 15 mm (5/8 in) plywood or thicker.
    }
cart-refused-sheet_too_small =
    .found = a panel { $longest } long and one { $widest } wide
    .allowed = up to { $along } by { $across } from `{ $sheet }`
    .mend = Choose a larger sheet.

cart-refused-ballast =
    .found = more ballast than there is room for under the bottom
    .allowed = up to { $most }
    .mend = { $room ->
        [none] Leave the ballast out, or choose higher casters: no tray fits between these.
       *[some] Put in { $most } or less, or make the cart wider.
    }

cart-refused-too_large =
    .found = a cart that needs { $needed }
    .allowed = up to { $limit }
    .mend = { $way ->
        [wider] { $stacking ->
            [helps] Allow { $needed }: vacuum and bucket make the `{ $form }` wider than that. Or choose `tower`, which stacks them.
           *[no] Allow { $needed }: vacuum and bucket make the `{ $form }` wider than that.
        }
        [deeper] Allow { $needed }: vacuum and bucket make the `{ $form }` deeper than that.
        [door] A `{ $form }` of this vacuum and bucket goes through a doorway { $needed } wide, and no narrower one. Choose another form, or keep it on its side of the door and write the narrowest door that it must pass.
       *[higher] Allow { $needed }: vacuum and bucket make the `{ $form }` higher than that.
    }

cart-refused-under_bench =
    .found = the lowest cart, with its separator lifted out, needs { $needed }
    .allowed = up to { $limit }
    .mend = Raise the bench to { $needed }, or park it beside the bench.

## Panels as they were cut, of which no cart can be joined.
cart-refused-no_such_panel =
    .found = `{ $name }`
    .allowed = { $panels }
    .mend = Use a panel's name from the plan, or its mark there, as A1.
cart-refused-short_shelf =
    .found = a shelf { $length } long
    .allowed = about { $planned }, over both uprights
    .mend = Cut it again: it has too little to rest on.
cart-refused-long_shelf =
    .found = a shelf { $length } long
    .allowed = about { $planned }, over both uprights
    .mend = Trim it at both ends alike, the opening in its middle.
cart-refused-rails_and_bottom =
    .found = posts { $posts } over all on a bottom of { $bottom }
    .allowed = rails and bottom of one width
    .mend = Recut the longer of them.
cart-refused-wide_posts =
    .found = posts { $posts } wide under a shelf { $shelf } deep: their grooves run out at its front corners
    .allowed = posts up to { $widest } wide
    .mend = Rip the posts narrower.
cart-refused-long_lipping =
    .found = one longer than the bottom is deep
    .allowed = up to { $most }, between the long ones
    .mend = Trim it.
cart-refused-as_built =
    .found = { $sides }: { $why }
    .allowed = { $planned }, as planned
    .mend = Check the unit and which side was measured; if it is so, cut this panel again.

cart-built-side = { $side ->
    [length] a length of { $size }
   *[width] a width of { $size }
}
cart-built-planned = { $side ->
    [length] a length of about { $size }
   *[width] a width of about { $size }
}
cart-built-misses = the cart then misses what is wished for
cart-built-in_one_place = { $first } and { $second } would be in one place
cart-built-hardly_meet = { $first } and { $second } would hardly meet
cart-built-stands_out = the { $panel } would stand out of the cart

## What the cart carries, by what it is called.
body-vacuum = vacuum
body-vacuum-inlet = vacuum inlet
body-bucket = bucket
body-cyclone = cyclone
body-cyclone-inlet = cyclone inlet
body-link-hose = link hose
body-front-left-loop = front left strap loop
body-front-right-loop = front right strap loop
body-rear-left-loop = rear left strap loop
body-rear-right-loop = rear right strap loop
body-front-strap = front strap
body-rear-strap = rear strap
body-caster = caster
body-ballast = ballast
body-hose-anchor = hose anchor
body-peg-n = peg { $first }
body-outlet-strip = outlet strip
body-front-left-caster = front left caster
body-front-right-caster = front right caster
body-rear-left-caster = rear left caster
body-rear-right-caster = rear right caster

## Steps of assembly: their titles.
cart-title-cut = { $drilled ->
    [yes] Cut, sand and drill
   *[no] Cut and sand
}
cart-title-sides_and_rails = Join the sides with the two rails
cart-title-posts_and_rails = Join the posts with the three rails
cart-title-partition_and_end = Join the partition and the end
cart-title-lay_out_uprights = Lay out the partition and the end
cart-title-uprights = Fix the partition and the end
cart-title-brackets = Fix the brackets
cart-title-bottom = Fix the bottom
cart-title-cleats = Fix the bucket's cleats
cart-title-blocks = { $joint ->
    [glue] Glue the caster blocks
   *[screws] Glue and screw the caster blocks
}
cart-title-outriggers = { $joint ->
    [glue] Glue the outriggers
   *[screws] Glue and screw the outriggers
}
cart-title-casters = Screw on the casters
cart-title-tray = Make the ballast tray
cart-title-ballast = Lay in the ballast
cart-title-tray_floor = Close the ballast tray
cart-title-anchor = Fix the tool hose's anchor
cart-title-shelf = Fix the shelf
cart-title-lipping = Fix the lipping (edge strip)
cart-title-side_lipping = Fix the side lipping (edge strips)
cart-title-front_lipping = Fix the front lipping
cart-title-finish = Seal and paint
cart-title-vacuum = Set in the vacuum
cart-title-bucket = { $hold ->
    [standing] Fix the strap loops and set the bucket between its cleats
   *[hanging] Set in the bucket
}
cart-title-lid = Mount the cyclone on the lid
cart-title-straps = Strap the bucket down
cart-title-link_hose = Connect the link hose

## Steps of assembly: what to do.
cart-say-letters = Write each panel's letter on it as it comes off the saw.
cart-say-cut = { $opening ->
    [square] Cut the openings; drill the corners of the shelf's first, then saw from hole to hole.
    [other] Cut the openings.
   *[none] No panel of the frame has an opening.
} { $corners ->
    [yes] Saw off the corners that are drawn cut off.
   *[no] Leave the corners whole.
} { $drilled ->
    [yes] Drill the clearance holes ({ $drills }), countersunk from the side the screw goes in.
   *[no] Keep glued faces bare.
}

cart-say-sides_and_rails = { $pose ->
    [rear-edges] Stand both sides on their rear edges on a flat floor.
   *[front-edges] Stand both sides on their front edges on a flat floor.
} Put glue on the rails' ends and set both rails between them.
cart-say-square_across_the_rear = Measure both diagonals across the rear: push the frame until they are equal before the glue sets.
cart-say-posts_and_rails = { $pose ->
    [rear-edges] Stand both posts on their rear edges on a flat floor.
   *[front-edges] Stand both posts on their front edges on a flat floor.
} Put glue on the rails' ends and set the three rails between them.
cart-say-square = Push the frame until both diagonals are equal before the glue sets.
cart-say-partition_and_end = { $pose ->
    [rear-edges] Stand both uprights on their rear edges.
   *[front-edges] Stand both uprights on their front edges.
} Put glue on the rails' ends and set them between the two.
cart-say-lay_out_uprights = Draw on the upper face of the bottom where the partition and the end will stand, by the distances that the next step gives, and square the lines round to its underside. Each screw goes through the middle between its upright's two lines.

cart-say-brackets = Glue each bracket to the inner face of its post, and { $joint ->
    [glue] clamp it over its whole face until the glue has set.
   *[screws] screw it from inside.
}

cart-say-bottom_on_sides = Turn the frame upside down on its shelf end. Glue the lower ends of the sides and the lower rail, lay the bottom on them { $joint ->
    [dado] with its grooves over their ends, press it down until every edge is home in its groove, and screw it down.
   *[other] in its place, and screw it down.
}
cart-say-sink_heads = Sink the heads flush: the caster blocks cover the rear ones.
cart-say-bottom_on_posts = Turn the frame upside down. Glue the lower ends of the posts and the lower rail, lay the bottom on { $joint ->
    [dado] with its grooves over their ends, press it down until every edge is home in its groove, and screw it down.
   *[other] in its place, and screw it down.
}
cart-say-frame_on_bottom = Lay the bottom on the floor. { $uprights ->
    [sides] Glue the lower ends of the sides and the lower rail,
   *[posts] Glue the lower ends of the posts and the lower rail,
} stand the frame on its lines, clamp it, and drive the pocket screws down into it from the inner faces.
cart-say-from_below = Then lay the frame on its back with a helper and drive the screws through the bottom's own holes.
cart-say-bottom_on_uprights = Turn them upside down. Glue their lower ends and lay the bottom on, its long end propped level on a box, { $joint ->
    [dado] press it down until every edge is home in its groove, and screw it down.
   *[other] and screw it down.
}
cart-say-bottom_on_trestles = Lay the bottom across two trestles. Glue the lower end of each upright, stand it { $joint ->
    [dado] until it is home in its groove on its marks,
   *[other] on its marks,
} clamp it to a square block beside it, and screw it from below.
cart-say-uprights_on_bottom = Lay the bottom on the floor. Glue the lower ends of the uprights and stand them on it, on their lines; clamp them, and drive the pocket screws down into it from the inner faces.
cart-say-cleats_on_bottom = { $joint ->
    [glue] Glue and clamp the four cleats to the bottom's upper face, on edge.
   *[screws] Stand the four cleats on edge on the bottom's upper face and screw them from below, through the bottom.
}

cart-say-blocks = Spread glue over the whole face of each block, set it in its corner and { $joint ->
    [glue] clamp it until the glue has set.
   *[screws] screw it while the glue is wet.
}
cart-say-outriggers = Spread glue where each arm lies on the bottom, set it in its place and { $joint ->
    [glue] clamp it until the glue has set.
   *[screws] screw it while the glue is wet.
}
cart-say-mark_heads = Mark on its edges where screw heads lie under it: the casters' screws keep off them.
cart-say-tray = Screw the two tray sides to the two tray ends, through the sides. Screw a tray cleat along the outside of each side, through the side.
cart-say-tray_up = Set this frame on the bottom's underside between the casters and screw it down through the cleats, without glue.
cart-say-ballast = Lay the ballast in flat and close, and wedge it so that nothing slides.
cart-say-tray_floor = Screw the tray floor over it through its face, without glue: it opens again when the cart is to be carried.
cart-say-anchor = Screw the strap loop down and thread the short strap through it.
cart-say-tie_hose = Lead the tool hose down from its port with a hand's breadth of slack and strap it there: a tug then pulls near the floor.
cart-say-casters = Lay each plate on its block, its long side along the block's, mark its holes and drill the pilots there; where a screw head lies under one, turn the plate half round. The casters with brakes go to the front.

cart-say-cleats_on_shelf = { $joint ->
    [glue] Glue and clamp the four cleats on the shelf so that the bucket stands between them.
   *[screws] Screw the four cleats to the shelf from below so that the bucket stands between them.
}
cart-say-try_bucket = Try the bucket in the opening before anything is fixed; ease the opening with a rasp if it binds.
cart-say-shelf = Turn the cart upright. { $uprights ->
    [sides] Glue the upper ends of the sides and the upper rail,
    [posts] Glue the upper ends of the posts, the brackets and the upper rail,
   *[partition] Glue the upper ends of the partition, the end and the rail,
} lay the shelf on, { $joint ->
    [pocket-hole] clamp it, and drive the pocket screws into it from the inner faces{ $own-holes ->
        [yes] ; drive the screws through its own holes as well.
       *[no] .
    }
    [dado] press it down until every edge is home in its groove, and screw it down.
   *[other] and screw it down.
}

cart-say-lipping = Hold the lipping to the front edge of the bottom and { $joint ->
    [pocket-hole] drive the pocket screws into it from under the bottom.
    [glue] clamp it with glue on the whole edge until that has set.
   *[other] screw it on.
}
cart-say-without_glue = Leave out the glue if you want to be able to take it off.
cart-say-side_lipping = { $joint ->
    [pocket-hole] Glue and screw a side lipping to each side edge of the bottom (the pocket screws from below) and to the outer face of its post: it keeps the posts from leaning forward.
    [glue] Glue and screw a side lipping to each side edge of the bottom, and glue and clamp it to the outer face of its post: it keeps the posts from leaning forward.
   *[other] Glue and screw a side lipping to each side edge of the bottom and to the outer face of its post: it keeps the posts from leaning forward.
}
cart-say-lipping_all_round = { $joint ->
    [pocket-hole] Drive the pocket screws from under the bottom into the short lipping at its left edge, then into the long ones at the front and the rear.
    [glue] Glue and clamp the short lipping to the left edge of the bottom, then the long ones to the front and the rear.
   *[other] Screw the short lipping to the left edge of the bottom, then the long ones to the front and the rear.
}

cart-say-unplug = Unplug the vacuum.
cart-say-vacuum_to_the_rail = Lift it over the lipping and roll it in, its hose port to the front.
cart-say-vacuum_to_the_posts = Lift it over the front lipping and roll it in, its hose port to the front.
cart-say-vacuum_into_its_bay = Lower it into its bay, its hose port to the front.

cart-say-stand_bucket = Screw the four loops down, then stand the bucket between its cleats.
cart-say-straps = Pull a strap over the lid before the cyclone and one behind it, from the loops at one side to those at the other, until the bucket cannot rock.
cart-say-hang_bucket = Lower the bucket through the opening until it rests.
cart-say-lid_hole = Take the bucket's own lid off; where it has none, buy the lid that belongs to it. Draw two lines across the lid through its middle. Stand the cyclone on it, its flange centred on where they cross, and draw round the inside of the flange's dust outlet and through each of its holes. Saw the opening along the inner line with a fine jigsaw blade, no larger: what is drawn there is what the dust falls through.
cart-say-lid_screws = Drill the holes of the flange through the lid. Lay the foam strip in one closed ring between the opening and the bolts, ends butted; bolt the flange on with a washer under each head and each nut, crosswise, until the foam is half as thick.
cart-say-lid_on = Press the lid on the bucket all round, the cyclone's inlet to the right of the cart.
cart-say-link_hose = Take the cuff off one end of the hose and cut the hose square, between two ridges, to the length listed; put the cuff on again. Lead it from the cyclone's outlet forward and down to the vacuum's inlet.

## Steps of assembly: what to mind.
cart-mind-cut = { $opening ->
    [none] Keep small pieces away from the saw: cut them from a long strip with a stop block.
   *[other] Support both halves of an opening's waste before the last of the cut, and keep small pieces away from the saw: cut them from a long strip with a stop block.
}
cart-mind-eyes = Wear eye protection and a dust mask; clamp the work, never hold it while drilling.
cart-mind-middle_of_the_edge = Drill pilot holes in the middle of the edge: a screw off centre splits it.
cart-mind-pilot_holes = Drill pilot holes.
cart-mind-both_faces = Mark both faces: the screws are drilled for from the other side.
cart-mind-diagonals = Measure both diagonals before the glue sets.
cart-mind-brackets = { $joint ->
    [glue] Both upper edges must be level for the shelf.
   *[screws] Clamp it before you drill: both upper edges must be level for the shelf.
}
cart-mind-top_heavy_upside_down = The frame is top-heavy upside down: have someone hold it.
cart-mind-top_heavy = The frame is top-heavy: have someone hold it. A long driver bit keeps hands clear.
cart-mind-side_lipping = These two carry: use glue and every screw.
cart-mind-blocks = { $joint ->
    [glue] Do not load the blocks for a day: the casters' screws go through them into the bottom.
   *[screws] Check that no screw's point comes through the bottom.
}
cart-mind-tray = Check that no screw's point comes through the bottom.
cart-mind-slabs = Nothing may stand out over the tray's edges: its floor must close.
cart-mind-ballast = The cart is heavy now: turn it over with a helper, and take the ballast out before you lift it.
cart-mind-anchor = Tie it each time you work: hanging from its port, a tug can tip the cart.
cart-mind-casters = Let the glue dry first, and use all four screws of each plate.
cart-mind-brakes = Brakes on.
cart-mind-shelf = { $opening ->
    [yes] Keep glue out of the opening, where the bucket must slide.
   *[no] Wipe off what glue squeezes out.
}
cart-mind-lipping = Round its upper edge: the vacuum is lifted over it.
cart-mind-lipping_all_round = Round the upper edges: the vacuum is lifted over them.
cart-mind-vacuum = Bend your knees, or lift it with a helper.
cart-mind-lid = An opening that leaks here takes the dust past the bucket: put a hand over the inlet with the vacuum on and listen at the flange.
cart-mind-bucket = Empty the bucket before it is full: dust that reaches the cyclone passes on.
cart-mind-straps = Unstrapped it can fall from the cart: strap it again each time.
cart-mind-link_hose = Static: dust charges the hose, and you may feel shocks; do not let one startle you beside a blade. Never suck up sparks, embers, metal grindings, or anything wet.

## Hardware besides the screws of joints.
cart-hardware-caster = swivel caster, { $wheel } wheel, plate about { $long } × { $wide }, two of the four with a brake
cart-hardware-pan_head = { $size } pan-head screw, { $length }
cart-hardware-bolt = { $size } machine screw, { $length }, with nut and two washers
cart-hardware-bolt_inch = No. 10-24
cart-hardware-seal = self-adhesive foam strip, closed cell, one roll
cart-hardware-glue = wood glue, small bottle
cart-hardware-link_hose = hose of { $bore } bore, cut to { $cut }
cart-hardware-strap = lashing strap with a cam buckle, { $length } or longer
cart-hardware-loop = steel strap loop with two holes
cart-hardware-ballast = { $of ->
    [iron] ballast, { $lot } of iron: flat bar, weight plates or sash weights
   *[slabs] ballast, { $lot } of paving slabs, bricks or bagged sand
}
cart-hardware-tie = short hook-and-loop strap, to go round the tool hose

use-ballast-tray = ballast tray
use-hose-anchor = hose anchor
use-under-the-blocks = under the caster blocks
use-caster-plates = caster plates
use-through-the-blocks = through block and into the bottom
use-all-joints = all joints that stay
use-separator-to-vacuum = separator to vacuum
use-flange-of-the-cyclone = one through each hole of the cyclone's flange; count its holes, four are usual
use-between-lid-and-cyclone = between lid and cyclone
use-over-the-lid = over the bucket's lid, before and behind the cyclone
use-beside-the-bucket = left and right of the bucket
use-strap-loops = strap loops

## Notes beside a panel's name.
cart-note-mirrored = { $face ->
    [inner] The two are mirror images: drill from the inner face.
    [away] The two are mirror images: drill from the face away from the bucket.
   *[outer] The two are mirror images: drill from the outer face.
}
cart-note-middle_rail = The middle one needs no pockets along its edges.
cart-note-rails = The lower one needs none along its upper edge, the upper one none along its lower.

## The work of building it, by kind.
task-pockets = pockets
task-grooves = grooves
task-sawing = marking and sawing the panels
task-openings = openings, hand holes and chamfers
task-sanding = sanding
task-joining = setting and gluing joints
task-screwing = drilling and driving screws
task-painting = sealing and painting

## Sanding, sealing and painting, in order.
cart-say-round_over = Round every edge that is drawn heavy on its panel to a radius of { $radius }; the other edges stay square.
cart-finish-sand = Sand faces and edges with 120 grit, then 180, now while the panels are loose; wipe the dust off. Neither paint nor sealer before the glue: it holds on bare wood alone, faces and edges alike.
cart-finish-glue = Let the last joint stand for an hour, and load nothing for a day.
cart-finish-seal = Seal the edges that still show with thinned finish or filler, let them dry, and sand them with 220.
cart-finish-paint = Paint the first coat, let it dry as the tin says, sand lightly with 220, paint the second. The next step waits until the paint no longer marks under a thumbnail.
cart-finish-mask = Take the casters off for this, or mask them.
cart-finish-rags = Spread oily rags flat outdoors to dry, or keep them under water: heaped, they catch fire.

## Tools that it asks for, and other ways for whoever lacks them.
cart-tool-saw = { $saw ->
    [table-saw] table saw
    [track-saw] track saw
   *[circular-saw] circular saw
}
    .use = panels
    .otherwise = { $saw ->
        [table-saw] Have the store make the long cuts, or clamp a straightedge for a hand-held saw.
        [track-saw] Clamp a straightedge for a circular saw with a fine blade.
       *[circular-saw] Have the store make the long cuts; trim them with a sharp panel saw.
    }
cart-tool-drill = drill and driver
    .use = pilot holes and screws
    .otherwise = A hand drill and a screwdriver do it; predrill every hole and wax the screws.
cart-tool-countersink = countersink bit
    .use = heads flush under blocks and shelf
    .otherwise = Twist a larger drill by hand, or use screws with cutting ribs under the head.
cart-tool-square = square and tape
    .use = marking
    .otherwise = A sheet's factory corner is square.
cart-tool-clamps = clamps
    .use = holding joints while they are drilled
    .otherwise = Tack the joint with two screws first, or have a helper hold it.
cart-tool-jigsaw = jigsaw
    .use = the opening in the shelf
    .otherwise = { $opening ->
        [round] A router on a trammel cuts it rounder; or a router with a flush bit along a template; or a keyhole saw and patience.
       *[square] A router with a flush bit along a template cuts it straighter; or a plunging saw along a straightedge, its last inch finished by hand; or drilled corners and a keyhole saw.
    }
cart-tool-hole_saw = hole saw and jigsaw
    .use = hand holes and windows
    .otherwise = Drill the ends with a spade bit and saw between them by hand.
cart-tool-pocket_guide = pocket-hole guide and bits
    .use = pockets; the driver bit a long one
    .otherwise = Saw a block to the slope and drill along it, the tip first and then the bore to a stop of tape; or write `screwed butt` for the joint and screw through the faces.
cart-tool-face_clamp = face clamp
    .use = holding a pocket joint flush while it is screwed
    .otherwise = Screw a batten beside the joint and push against it.
cart-tool-router = router or dado set
    .use = grooves
    .otherwise = An ordinary blade cuts a groove in several passes; or saw both sides by hand along a clamped straightedge and clear it with chisel and router plane; or write `screwed butt` for the joint.
cart-tool-chisel = sharp chisel
    .use = squaring the stopped end of a groove
    .otherwise = Round the corner of what goes in with a file instead.
