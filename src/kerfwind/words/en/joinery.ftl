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
