## Screws, as they are asked for.
joinery-screw-gauge = No. { $number }
joinery-screw-wood = { $size } countersunk wood screw, { $length }
joinery-screw-pocket = { $size } washer-head coarse screw, { $length }

# What the screws of a row of the hardware list are for.
use-what-carries = what carries
use-lipping = lipping
use-cleats = cleats
use-face-to-face = face to face
use-pockets-that-carry = pockets, what carries
use-pockets-of-lipping = pockets, lipping

## Holes in a panel's face.
joinery-hole-countersunk = clearance hole, countersunk
joinery-hole-fixing = clearance hole, by which it is fixed

## Panels that cannot be joined as they are.
joinery-apart = { $first } and { $second } do not meet on a face of { $first }
joinery-no_screw = no screw on sale joins { $first } and { $second }, { $through } to { $into }
joinery-cut_beyond = the cuts in the { $panel } reach beyond it

## How pockets and grooves are made.
joinery-say-pockets = Drill the pockets with a stepped bit ({ $bit }) in a guide of { $angle }, from the face named on each panel's drawing. The mark is where the bit's axis enters. Set the stop so that the shoulder stays { $stop }. Try guide, stop and screw on scrap of the same sheet first: no point may come through.
joinery-bit = { $bore } bore, { $tip } tip
joinery-bits = { $thinner } or, for the thicker panels, { $thicker }
joinery-stop-alike = { $across } from the edge
joinery-stop-of = { $across } from the edge for { $pairs }
joinery-into = { $panel } into { $into }
joinery-mind-pockets = A stepped bit grabs as it breaks out: clamp guide and panel, and keep the hand off the far side.

joinery-say-grooves = Cut the { $cuts ->
    [dado] dados
    [rebate] rebates (rabbets)
   *[both] dados and rebates (rabbets)
} { $depths ->
    [alike] { $depth } deep
   *[several] { $depth },
} before anything is joined: with a router and a straight bit along a clamped straightedge, or on a table saw with a dado set. Width: what goes in as it measures plus { $play }; cut one in scrap first, in which an offcut must slide by hand without rattling.
joinery-depth-of = { $depth } deep in the { $panels }
joinery-say-stopped = Where a groove stops before an edge, stop the router there and square the end with a chisel; a table saw cannot stop it.
joinery-say-notch = Notch the corners of the uprights that pass over a stop.
joinery-mind-grooves = A groove does not go through: keep the saw's riving knife and guard on where they can stay, hold the panel down with push blocks and a featherboard, and never guide one cut by fence and mitre (miter) gauge at once. With a router, clamp the panel and the straightedge, move it against the bit's turn, and take the depth in two passes.

## How joints are fastened.
joinery-say-home = Press each edge into its groove until it is home.
joinery-say-drive_pockets = Clamp each joint flush and drive the pocket screws from the inner faces, slowly: stop when the head seats.
joinery-say-drive = { $others ->
    [pockets] Where screws go through the face, drill pilot holes ({ $pilots }) through the clearance holes and drive the screws.
   *[none] Drill pilot holes ({ $pilots }) through the clearance holes and drive the screws.
}

## Plates and boxes for tools without a port.
joinery-board-plate = { $tool } plate
joinery-board-hood_box = { $tool } hood box
joinery-board-part = { $board } { $part }
board-part-back = back
board-part-long-side = long side
board-part-short-side = short side
board-part-bored-side = bored side
joinery-board-ring = bucket ring { $number }
joinery-board-lid = backing of the bucket's lid
joinery-board-valve = relief valve in the bucket's lid
joinery-valve = relief valve, opens at { $opens } and then lets in { $passes }
joinery-ring_screw = pan-head screw with a sealing washer, { $length }
joinery-fastener = fastener that suits the { $tool }
joinery-foam = self-adhesive foam strip, one roll

joinery-title-bore = Bore it
joinery-title-fix_plate = Fix it
joinery-title-join_sides = Join the sides
joinery-title-back = Put the back on
joinery-title-set_up = Set it up
joinery-title-ring = Saw the ring
joinery-title-set_ring = Set it in the bucket
joinery-title-lid = Saw it and put it under the cyclone
joinery-title-valve = Fit and set the valve

joinery-say-try_hole = Bore a hole of { $hole } in waste first: the end should push in by hand and stay. Sand the hole where it is tight; a turn of tape takes up what is loose.
joinery-say-ring_round = Strike two circles round the middle of the panel, { $outer } and { $inner } across, and saw the ring out between them. It should go into the bucket by hand; rasp it to the wall's slope.
joinery-say-ring_box = Round the corners to those of the box, and saw out the middle { $wood } from the edges. The frame should go into the box by hand; rasp it to the walls' slope.
joinery-say-set_ring = Push the ring down until it stands level all round, { $level } above the bucket's floor. { $held ->
    [wedged] There the bucket's taper holds it; press it home, and run a bead of sealant under it.
   *[screwed] Hold it there with three screws through the wall, evenly spaced, each with a sealing washer.
}
joinery-say-lid = { $shape ->
    [round] Saw the disc to the largest circle that the panel holds. It lies on the lid from rim to rim.
   *[box] It lies on the lid from rim to rim.
} Cut through it the same opening and holes as through the lid, lay foam between the two, and bolt the cyclone's flange on it through both: the bolts are its thickness longer.
joinery-say-valve = Bore the lid beside the cyclone for the valve and seal it in. To set it, hold the hose shut with a flat board for three seconds at most, a gauge on the bucket: it must hiss from { $opens } on. Turn its spring until it does, and try again.
joinery-say-bore_plate = Then bore the plate in its middle.
joinery-say-bore_box = { $bored ->
    [side] Then bore the bored side where it is marked.
   *[back] Then bore the back where it is marked.
}
joinery-say-fix_plate = Lay the foam strip round the opening in the { $tool }, set the plate on it with the hole over the opening, and fasten it through the four corners to wood or sheet metal that is no guard. Push the hose in; it must not reach anything that turns.
joinery-say-join_sides = Glue and screw the long sides over the ends of the short ones, edges flush, so that the face is open in front.
joinery-say-back = A full bead of glue all round keeps air from leaking in; screw the back down, plane it flush, wipe the inside clean, and round the front edges.
joinery-say-set_up = Fix it beside the { $tool } with its open face where the dust is made, as near as the work lets it stand, and push the hose in. What passes its face further off is mostly lost.

joinery-mind-boring = Clamp the piece flat on waste and bore slowly: a hole saw that catches spins whatever is not held. Glasses on.
joinery-mind-ring = Clamp the panel for both circles; saw the outer one last, and keep the jigsaw's cord behind the cut.
joinery-mind-lid = Take the cyclone off and the plug out before you bore the lid.
joinery-mind-valve = Keep hands and face off the bucket while the hose is shut: a wall that is drawn in jumps.
joinery-mind-guards = Pull the plug first. It goes where it touches neither blade, cutter nor belt: never take off, tie back or cut a guard, riving knife or pawl to make room for it, and keep it out of the line in which a kickback throws the work.
