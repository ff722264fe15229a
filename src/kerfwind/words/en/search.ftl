## What would help a tool most, each change alone.
search-help-wider = { $hose } one bore up, { $bore }
search-help-shorter = { $hose } cut to { $length }
search-help-smooth = { $hose } smooth inside
search-help-without = a direct fit in place of the { $fitting }
search-help-full_bore = { $end ->
    [tool_end] a full-bore cuff at the { $hose }'s tool end
   *[unit_end] a full-bore cuff at the { $hose }'s unit end
}
search-help-straighter = hose laid with a single bend
search-help-filter = a clean filter
search-help-leaks = every joint sealed
search-help-bypass = the separator left out
search-help-vacuum = a vacuum with a quarter more suction and airflow
search-help-gate = the gate of { $branch } closed

# What a change costs otherwise, or what to mind.
search-help-catch-wider = Air moves slower in it: chips may settle sooner.
search-help-catch-shorter = It reaches less far.
search-help-catch-filter = Clean it outdoors, with a mask on.
search-help-catch-bypass = All dust then loads the filter, which takes the gain away again.
search-help-catch-vacuum = Check the circuit first.

## What is most worth measuring, and with what.
search-measure-suction = the vacuum's suction curve
search-measure-inside = { $of }, inside diameter
search-measure-bore = { $of }, bore
search-measure-length = { $of }, length
search-measure-altitude = the shop's altitude
search-measure-other = { $place }
search-measure-with = { $what }, with { $gauge }

gauge-home-test = the home test: `kerfwind test-sheet`
gauge-mouth-calipers = calipers at the mouth
gauge-inside-calipers = calipers inside, past the cuff
gauge-map = a map
gauge-tape = a tape measure
gauge-reading = reading it off

## Carts that a search chose.
aim-cheapest = cheapest
aim-steadiest = steadiest
aim-smallest = smallest
aim-lowest = lowest
aim-all-round = all round

## What keeps a vacuum or a bucket out of a cart.
missed-length = length
missed-width = width
missed-height = height
missed-weight = weight
missed-rim-height = height up to the rim
missed-diameter-under = diameter under the rim
missed-diameter-over = diameter over the rim
missed-width-under = width under the rim
missed-width-over = width over the rim
missed-length-under = length under the rim
missed-length-over = length over the rim
missed-round = it is round, the opening is not
missed-box = a box, the opening is round

## What is cut beside the cart.
cart-board_too_large = its plate or box is cut from the sheets
cart-board_too_large-beyond_sheets = { $kind ->
    [hood-box] The { $tool } hood box, { $size }, is larger than any sheet of this plywood.
   *[plate] The { $tool } plate, { $size }, is larger than any sheet of this plywood.
}
    .do = Make its opening smaller, or add a larger sheet to the shop file.
cart-board_too_large-bucket_part = { $kind ->
    [ring] A ring for the bucket, { $size }, is larger than any sheet of this plywood.
   *[lid] The backing of the bucket's lid, { $size }, is larger than any sheet of this plywood.
}
    .do = Add a larger sheet to the shop file.

## A published plan that somebody else reads.
search-fits-no_plan =
    .found = no plan with a cart
    .allowed = the plan.json of a plan that has a cart
    .mend = Ask for the plan.json that lies beside the plan's PDF.
search-fits-no_field =
    .found = `{ $given }`
    .allowed = { $known }, each followed by its size, with commas between them
    .mend = Write the name of the size before it, such as `height 21 in`.

## One of several panels that was cut, and came out otherwise.
cart-one_panel = one panel of several as it was cut
cart-one_panel-short = { $side ->
    [length] This { $panel } is { $by } too short: { $now } long in place of { $was }.
   *[width] This { $panel } is { $by } too narrow: { $now } wide in place of { $was }.
}
    .do = { $mate ->
        [passes] Trim its mate to { $now } too, and every check still passes: write `{ $panel }` in its row, and it is planned so.
        [fails] Trim its mate to { $now } too: it can be joined so, and { $fails ->
            [one] one more check fails
           *[other] { $fails } more checks fail
        }; write `{ $panel }` in its row to see which.
       *[none] Its mate cannot be trimmed to it: no cart could be joined then.
    } { $shim ->
        [yes] Or shim it: glue a strip { $by } thick on where it falls short; nothing else changes.
       *[no] A shim would be too thick to hold a screw.
    } { $sheets ->
        [0] Or cut it again: it goes on the sheets that are bought anyway. Take its row out of the file then.
        [one] Or cut it again, from one sheet more, for { $price }. Take its row out of the file then.
       *[other] Or cut it again, from { $sheets } sheets more, for { $price }. Take its row out of the file then.
    }
cart-one_panel-long = { $side ->
    [length] This { $panel } is { $by } too long: { $now } long in place of { $was }.
   *[width] This { $panel } is { $by } too wide: { $now } wide in place of { $was }.
}
    .do = Trim it to { $was }: nothing else changes.
