## A plan in a few lines.

# The word by which the name of a vacuum says what it is.
view-intro-vacuum = vacuum
view-intro = { $separator ->
    [yes] One rolling unit that carries { $carried } and a cyclone on a { $bucket } { $shape ->
        [drum] drum
        [box] box
       *[bucket] bucket
    }, and reaches { $tools }.
   *[no] One rolling unit that carries { $carried } and reaches { $tools }.
}
view-intro-carried = { $named ->
    [yes] the { $vacuum }
   *[no] the vacuum ({ $vacuum })
}
view-intro-tools = { $count ->
    [one] one tool
   *[other] { $count } tools
}
view-intro-cut_from = It is cut from { $sheets }.
view-intro-no_cart = No cart that meets the wishes was found; the findings say why.

view-sheets = { $count ->
    [one] { $count } sheet of { $sheet }
   *[other] { $count } sheets of { $sheet }
}
view-size = { $length } × { $width } × { $height }
view-about = about { $price }
view-bill = about { $price }
view-bill_and_more = { $count ->
    [one] about { $price }, and { $count } item without a known price
   *[other] about { $price }, and { $count } items without a known price
}

view-summary-size = Length × width × height
view-summary-weight = Weight
view-summary-weight_full = Weight, bucket full
view-summary-sheets = Sheets
view-summary-to_buy = To buy, in all
view-summary-most_air = Most air
view-summary-at = { $airflow } at the { $tool }
view-summary-assumed = Assumed, not measured
view-summary-values = { $count ->
    [one] { $count } value
   *[other] { $count } values
}

## What to know first.

view-verdict = Does it work?
view-verdict-starved = Dust not caught, far too little air: { $tools }.
view-verdict-weak = Dust only partly caught: { $tools }.
view-verdict-unknown = Not known until something is measured: { $tools }.
view-verdict-enough = Dust caught: { $tools }.
view-verdict-strong = Dust caught with air to spare: { $tools }.

## The answer first: does it work, what to do, what to measure.

first-stop = STOP: { $answer }
first-cart = { $outcome ->
    [passes] The cart can be built, and passes all { $count } of its checks.
    [open] The cart can be built; no check of it fails, but not settled: { $open }.
   *[fails] The cart can be built, but fails: { $failed }.
}
first-session = { $session }: { $day } of inhalable dust over the day, { $limit } at most; mask on, and for { $mask-on } after the last cut.
first-check_of = { $about }, { $check }
first-todo = Do, in this order:
first-measure = Measure first:
first-changes = → { $changes }
first-change = Try: { $change }
first-mends = mends { $check }
first-mends-value = { $check }: { $before } becomes { $after }
first-why = { $named ->
    [yes] { $about }: { $what }
   *[no] { $what }
}
first-caught = dust caught in so many cases of 100: { $tools }
first-turned = { $tool } { $after } instead of { $before }
first-dust_at = dust caught at the { $tool }
first-chips_at = chips carried at the { $tool }
first-and_more = { $count ->
    [one] { $first } and { $count } more
   *[other] { $first } and { $count } more
}
first-settles = → { $what }
first-more = { $count ->
    [one] and { $count } more among the findings
   *[other] and { $count } more among the findings
}
first-nothing = Nothing: build it.
first-nothing_to_measure = Nothing that would settle an open check.

## The air at each tool.

view-air-not_known = not known
view-help-some = { $what } (at { $tools })
view-help-but = { $what }. { $catch }
view-help-turned = { $tool } ({ $before } → { $after } in 100)
view-help-nowhere_new = nowhere new
view-cost-unknown = not known
view-cost-nothing = nothing
view-cost-up_to = up to { $price }
view-measure-for = { $what }: for { $tools }
view-gate = { $gate }: { $gain } more
view-gate-none = none to close

## From each port to the hose.

view-next = { $settled ->
    [turned] The chains above cost { $cost }, the work of making pieces included; with air, bother and doubt counted as money that comes to { $weight }. By a first estimate of the air they came second; with every loss counted they come first. The next best costs { $other } and comes to { $more } more. It differs in this:
    [proven] The chains above cost { $cost }, the work of making pieces included; with air, bother and doubt counted as money that comes to { $weight }; no answer comes to less. The next best costs { $other } and comes to { $more } more. It differs in this:
   *[bounded] The chains above cost { $cost }, the work of making pieces included; with air, bother and doubt counted as money that comes to { $weight }; no answer can come to less than { $bound }. The next best costs { $other } and comes to { $more } more. It differs in this:
}
view-next-same_air = The air is the same by both, as near as can be told.
view-next-better_air = In the air alone the next best is better; what it costs more in money, bother and doubt is more than that air is counted for.
view-next-air = The air at each tool by both, for the best values:

view-gain = { $tool } { $before } → { $after }

view-reducer = { $mass } of filament, about { $price }; very roughly { $hours } h to print, within a factor of two. Wall { $wall } mm; { $allowance } mm allowed for the fit: print the test rings first, and correct it by the ring that goes on best.

view-wall-into = { $inner } into { $outer }
view-wall-in_out = in / out: { $first }  ·  { $last }
view-wall-lives = lives: { $home }

## Where to park.

view-parking-hose = { $hose } { $length }
view-parking-hoses = { $new ->
    [yes] { $hoses }, new
   *[no] { $hoses }, as owned
}
view-parking-none = none
view-room = { $moves ->
    [one] { $hoses }: { $moves } move
   *[other] { $hoses }: { $moves } moves
}
view-room-arcs = Each arc is as far from a tool as its hose lets the middle of the unit stand.
view-room-spot = spot { NUMBER($number, useGrouping: 0) }, its middle { $left } from the left wall and { $front } from the wall drawn below: { $tools } (needs { $hoses })
view-room-needs = { $length } of { $hose }
view-room-spots = { $spots }.
view-room-out_of_reach = Out of reach: { $tools }.

## The charts.

view-chart-suction = The vacuum against the way the air takes
    .caption = The falling curve is what the vacuum can pull, with its band; each rising curve is what the way from a tool takes. Where they meet is the airflow.
view-chart-path = Where the suction goes: { $tool }
    .caption = Pressure lost from the port (above) to the filter (below), part by part.

## The cart.

view-cart = { $known ->
    [assumed] Form { $form }, from plywood assumed to be { $thick } thick: measure yours and enter it before you cut.
   *[measured] Form { $form }, from plywood { $thick } thick as measured.
}
form-tower = tower
form-low = low
form-backframe = backframe
view-cart-measure_first = Measure these before you cut: { $places }.
view-cart-sheets = { $sheets }.
view-panel-copies = { $panel } ({ $copies })
view-panel-with_note = { $panel }: { $note }
view-panel-drawn = { $count ->
    [one] { $mark }: { $panel }
   *[other] { $mark }: { $panel }, { $count } of them
}
view-mind = Mind
view-shapes = Seen from the face where the marks are made; holes are given from the near left corner to their centres.
view-shapes-templates = templates.pdf has openings and chamfers at full size.
view-shapes-pockets = A pocket's place is where the axis of the bit enters the face that is named.
view-shapes-grooves = Dados and the stops of grooves are given from the near left corner, rebates by their width from the edge.
view-shapes-behind = Dashed grooves and grey pockets are in the face behind: turn the panel over end for end, and what is given from the left end is then from the right.
view-hardware-steps = { $count ->
    [one] step { $steps }
   *[other] steps { $steps }
}
view-work = { $hours } hours of work, and { $waiting } hours of waiting for glue and paint: a rough estimate, no promise. { $faces } to paint and { $edges } of edges to seal first: { $paint } of paint.

carries-vacuum-length = vacuum, front to back
carries-vacuum-width = vacuum, side to side
carries-vacuum-height = vacuum, height
carries-vacuum-weight = vacuum, weight
carries-bucket-cleats = bucket between its cleats
carries-bucket-floor = bucket at its floor
carries-bucket-under = bucket under the rim
carries-bucket-over = bucket over the rim
carries-bucket-to-rim = bucket's floor to its rim
carries-bucket-to-wedge = bucket's floor to where it wedges
carries-box-cleats-side-to-side = box between its cleats, side to side
carries-box-cleats-front-to-back = box between its cleats, front to back
carries-box-floor-side-to-side = box at its floor, side to side
carries-box-floor-front-to-back = box at its floor, front to back
carries-box-under-side-to-side = box under the rim, side to side
carries-box-under-front-to-back = box under the rim, front to back
carries-box-over-side-to-side = box over the rim, side to side
carries-box-over-front-to-back = box over the rim, front to back
carries-box-to-rim = box's floor to its rim
carries-box-to-wedge = box's floor to where it wedges
carries-full-bucket = bucket, lid, cyclone and dust
view-carries-up_to = up to { $most }
view-carries-at_least = at least { $least }
view-carries-any = any

## Plates and boxes for tools without a port.

view-board-plate = { $length } by { $width }, with a hole of { $hole } in its middle for the { $end }.
view-board-box = { $bored ->
    [side] Open face { $length } by { $width }, { $depth } deep inside; a hole of { $hole } in its side takes the { $end }.
   *[back] Open face { $length } by { $width }, { $depth } deep inside; a hole of { $hole } in its back takes the { $end }.
}
view-board-ring = { $shape ->
    [round] A ring { $across } across, its wood { $width } wide, { $height } above the bucket's floor: it keeps the wall from being drawn in.
   *[box] A frame { $across } by { $along }, its wood { $width } wide, { $height } above the box's floor: it keeps the walls from being drawn in.
}
view-board-lid = { $shape ->
    [round] A disc { $across } across on the bucket's lid, under the cyclone's flange: it carries the lid to the rim.
   *[box] A board { $across } by { $along } on the bucket's lid, under the cyclone's flange: it carries the lid to the rim.
}
view-board-valve = It opens at { $opens } and then lets in { $passes }, so that a blocked port does not draw the bucket in.
view-board-unmeasured = Nobody has measured that end yet: measure it first, and bore to what it is.
view-board-larger = The face is larger than asked for: the bore must keep clear of the edges.
view-board-panels = { $count ->
    [one] Panel { $marks }: sizes, sheets and cuts are with the cart's.
   *[other] Panels { $marks }: sizes, sheets and cuts are with the cart's.
}
view-board-panel = { $mark } { $panel }

## Templates at full size.

view-template-opening = { $count ->
    [one] { $panel } ({ $mark }): opening { $size }
   *[other] { $panel } ({ $mark }), { $count } of them: opening { $size }
}
view-template-round = Ø { $diameter }
view-template-square = { $length } × { $width }
view-template-centre = Centre { $left } from the left end and { $near } from the near edge of the panel, which lies below.
view-template-chamfer = Chamfer { $leg } × { $leg }
view-template-edges = Lay the two thin lines on the panel's edges: { $corners }.
view-template-corner = { $panel } ({ $mark }) { $corner }
corner-near-left = near left
corner-near-right = near right
corner-far-left = far left
corner-far-right = far right
view-template-off = off
view-template-page = Page { NUMBER($page, useGrouping: 0) } of { NUMBER($pages, useGrouping: 0) }.
view-template-share = Row { $row }, column { $column }. Page { NUMBER($page, useGrouping: 0) } of { NUMBER($pages, useGrouping: 0) }.
view-template-glue_right = glue: the page on the right lies on this strip
view-template-glue_below = glue: the page below lies on this strip
view-template-cut = cut along this line
view-template-check = Print at 100 %, not fitted to the page. Measure both rulers before you cut; if either is off, so is the template.
view-template-try = Try the real bucket, or a scrap, before the panel is cut.
view-template-title = { $plan }: templates

## What the plan rests on.

view-assumed-rest = and { $count } more
view-assumed-rest_ending = and { $count } more ending in { $field }
view-source = { $what }: { $cite }

## Tables.

view-air-column-tool = tool
view-air-column-hose = hose
view-air-column-airflow = airflow L/s
view-air-column-low = low L/s
view-air-column-high = high L/s
view-air-column-wanted-low = wanted low L/s
view-air-column-wanted-high = wanted high L/s
view-air-column-chips-carried = chips carried
view-air-column-chips-likelihood = chips likelihood
view-air-column-dust-caught = dust caught
view-air-column-dust-likelihood = dust likelihood

view-solids-column-mark = mark
view-solids-column-panel = panel
view-solids-column-number = number
view-solids-column-volume = volume of one cm³
view-solids-column-holes = holes in one cm³
view-solids-column-from = mass of one from kg
view-solids-column-to = to kg

## A shop file that asks for a language which the program does not have.

view-language =
    .found = `{ $asked }`
    .allowed = { $languages }
    .mend = Choose one of these, or leave `language` out for English.

## Where each part of a step goes.

view-shape-countersunk = Countersink its holes on the { $face }.
view-shape-countersunk_for = Countersink the holes for the { $parts } on the { $face }.
view-shape-lies = Drawn with the { $below } below and the { $left } to the left, the { $face } towards you.
view-shape-lies_so = { $parts }: the { $below } below and the { $left } to the left, the { $face } towards you.
view-step-takes = { NUMBER($count, useGrouping: 0) } × { $what }
view-step-screws = { NUMBER($count, useGrouping: 0) } × { $what }; pilot { $pilot }, drilled { $deep } deep from the face the screw goes in
view-place = { $part }: { $clauses }.
view-place-alike = { $part }: { $clauses }. { $count ->
    [one] The { $others } likewise, mirrored.
   *[other] The { $others } likewise, mirrored.
}
view-place-panel = { $part } ({ $letter })
view-place-side_of = { $side } of the { $part }
view-place-long = { $way ->
    [across] long side from left to right
   *[deep] long side from front to rear
}
view-place-against = { $side } against the { $to }
view-place-groove = { $side } home in the groove of the { $to }
view-place-over = its grooves home over the { $to }
view-place-flush = { $side } flush with the { $to }
view-place-flush_alike = { $sides } flush with the { $to }’s
view-place-centred = { $way ->
    [across] in the middle of the { $to } from left to right
    [deep] in the middle of the { $to } from front to rear
    [up] half way up the { $to }
   *[both] centred on the { $to }
}
view-place-opening = in the middle of the opening in the { $to }
view-place-between = half way between the { $one } and the { $two }
view-place-marked = { $way ->
    [in] { $what } { $distance } inside the { $edge }
    [hair-in] { $what } nearly flush with the { $edge }, { $distance } inside it
    [hair-out] { $what } nearly flush with the { $edge }, { $distance } beyond it
    [out] { $what } { $distance } beyond the { $edge }
   *[off] { $what } { $distance } from the { $edge }
}
view-place-mark_first = Draw a line at each distance before the glue goes on, measured from the edge that is named.

place-face-left = left face
place-face-right = right face
place-face-front = front face
place-face-rear = rear face
place-face-lower = underside
place-face-upper = upper face
place-edge-left = left edge
place-edge-right = right edge
place-edge-front = front edge
place-edge-rear = rear edge
place-edge-lower = lower edge
place-edge-upper = upper edge
place-end-left = left end
place-end-right = right end
place-end-front = front end
place-end-rear = rear end
place-end-lower = lower end
place-end-upper = upper end
place-side-left = left side
place-side-right = right side
place-side-front = front
place-side-rear = rear
place-side-lower = underside
place-side-upper = top
place-side-middle = middle
place-face-middle = middle
place-edge-middle = middle
