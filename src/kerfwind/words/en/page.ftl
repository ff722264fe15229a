## Headings of the printed plan, and the texts between them.

page-found = What was found
page-found-intro = Worst first. What was only assumed is never called good: where an assumption could turn an answer, it is marked unknown, with what to measure.
page-do = Do:
page-measure = Measure:
page-good = Checked and good
page-good-unit = unit
page-air = Air at each tool
page-air-intro = Airflow at the hood is a band that holds in nine cases of ten, given what is measured and what is not. Chips carried follows from the speed of the air; dust caught from the airflow at the hood, and is always the less certain of the two. Why a tool gets too little, and what to do, stands under “What was found”.
page-help = What would help most
page-help-intro = Each change alone. The gain is the band over the tools it could help; what gains less than a hundredth anywhere is left out.
page-help-nothing = Nothing here gains that much.
page-worth_measuring = Worth measuring:
page-branches = Fixed branches, with the gates as they stand
page-measured = Measured after building
page-hookups = From each port to the hose
page-hookups-intro = In the order the air takes them. A size in a name is no measurement: take the sizes here to the store.
page-next = The next best answer
page-print = To print in plastic
page-boards = To make of plywood
page-gains = What one more fitting would change
page-wall = Wall chart
page-wall-intro = From each port to the hose. Letters are the labels below; sizes are the outside that goes into the inside.
page-labels = Labels to cut out and stick on
page-rooms = Where to park it
page-rooms-intro = Each tool with the hose of its own chain. Spots keep clear of walls and of the outlines that the shop file gives; whatever else stands there is for you to see. The hose is counted from the middle of the unit, along the floor.
page-cart = The cart
page-panels = Panels
page-panels-note = Lengths run along the face grain where the grain is named. Sizes are finished sizes; the kerf is in the cuts.
page-apart = The parts, pulled apart
page-apart-intro = Letters are the panels' marks. Dashed lines run to where each part goes.
page-sheets = Sheets
page-cuts = Cuts in order
page-shapes = Each panel
page-hardware = Hardware
page-to_buy = To buy
page-to_buy-total = all together { $price }
page-steps = Steps
page-finish = Finish and time
page-carries = Which other vacuums and buckets it carries
page-carries-intro = For whoever builds it with another vacuum: inside these ranges this cart holds, passes its checks of tilt and caster load, and lets it out again. Check the hose and the air anew.
page-moving = Rolling it about
page-power = Power
page-emptying = Emptying
page-assumed = What this plan assumes
page-assumed-intro = Nobody measured these; they are what is usual. Measure what matters, write it in the shop file, and plan again.
page-assumed-nothing = Nothing: every value was given.
page-sources = Where the numbers come from
page-by = by { $author }
page-step = { NUMBER($number, useGrouping: 0) }. { $title }

page-column-tool = tool
page-column-airflow = airflow
page-column-wanted = wanted
page-column-chips_carried = chips carried
page-column-dust_caught = dust caught
page-column-hose = hose
page-column-change = change
page-column-airflow_gained = airflow gained
page-column-then_caught = where dust is then caught
page-column-costs_about = costs about
page-column-best_gate = best gate to close
page-column-what = what
page-column-predicted = predicted
page-column-measured = measured
page-column-recalibrated = after recalibration
page-column-as_planned = airflow as planned
page-column-by_next_best = by the next best
page-column-fitting = fitting
page-column-airflow_at = airflow at
page-column-price = price
page-column-hoses = hoses
page-column-moves = moves
page-column-lost = lost in it
page-column-new_hose = new hose
page-column-out_of_reach = out of reach
page-column-mark = mark
page-column-panel = panel
page-column-number = number
page-column-length = length
page-column-width = width
page-column-thick = thick
page-column-grain = grain
page-column-where = where
page-column-each = each
page-column-together = together
page-column-work = work
page-column-hours = hours
page-column-for = for
page-column-without = without it
page-column-place = place in the shop file
page-column-taken_as = taken as
page-column-why = why

## Pages that are measured with, at true size.

page-measuring = Measuring ports, hoses and fittings
page-measuring-foot = Print at 100 %, not fitted to the page
page-measuring-ruler = Must measure { $length }
page-measuring-strip = { $pieces ->
    [one] { $unit ->
        [mm] Strip for { $size }, in half millimetres
       *[in] Strip for { $size }, in 64ths of an inch
    }
   *[other] { $unit ->
        [mm] Strip for { $size }, in half millimetres, piece { $piece } of { $pieces }
       *[in] Strip for { $size }, in 64ths of an inch, piece { $piece } of { $pieces }
    }
}
page-measuring-tape = Tape its first { $overlap } over the end of the piece before, edge on edge.
page-measuring-cut_here = cut here: this end is laid on the scale
page-measuring-end = Where to measure an end: at its very mouth, outside and inside, and once more further in.
page-measuring-card = { $size }, { $unit }
page-measuring-large_card = Step card, { $card }: cut along the outline, push the narrow side in.
page-measuring-cards = Step cards for inside diameters: cut along the outline, push the narrow tip in.
