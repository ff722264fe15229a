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

cart-refused-too_large =
    .found = { $needed } needed
    .allowed = up to { $limit }
    .mend = { $way ->
        [wider] { $stacking ->
            [helps] Allow { $needed }: vacuum and bucket make the `{ $form }` wider than that. Or choose `tower`, which stacks them.
           *[no] Allow { $needed }: vacuum and bucket make the `{ $form }` wider than that.
        }
        [deeper] Allow { $needed }: vacuum and bucket make the `{ $form }` deeper than that.
       *[higher] Allow { $needed }: vacuum and bucket make the `{ $form }` higher than that.
    }

## Panels as they were cut, of which no cart can be joined.
cart-refused-no_such_panel =
    .found = `{ $name }`
    .allowed = { $panels }
    .mend = Use a panel's name from the plan.
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
body-strap-loops = strap loops
body-front-strap = front strap
body-rear-strap = rear strap
body-caster = caster
body-front-left-caster = front left caster
body-front-right-caster = front right caster
body-rear-left-caster = rear left caster
body-rear-right-caster = rear right caster
