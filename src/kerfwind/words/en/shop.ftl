## What surrounds the cut.

hood-pad-holes = a sanding pad with holes and a shroud
hood-belt-shroud = a belt sander's shroud
hood-disc-table = a disc or belt sander's cabinet
hood-saw-shroud = a hand-held saw with a closed blade shroud
hood-mitre-boot = a boot behind a mitre saw's blade
hood-band-saw-port = a port under a band saw's table
hood-saw-cabinet = a table saw's closed cabinet
hood-blade-guard = a table saw's guard with a port
hood-router-fence = a port in a router table's fence
hood-router-base = a hood on a hand router's base
hood-planer-hood = a thickness planer's hood
hood-jointer-chute = a jointer's chute
hood-drill-fence = a nozzle at a drill press
hood-lathe-hood = an open hood behind a lathe
hood-floor-nozzle = a floor nozzle
hood-hood-box = an open box beside the cut
hood-bench-nozzle = a nozzle laid beside the work

## What is done to the wood.

operation-sanding = sanding
operation-sawing = sawing
operation-routing = routing
operation-planing = planing or jointing
operation-drilling = drilling
operation-turning = turning
operation-sweeping = sweeping up what has fallen

## A file that is no shop file.

shop-file-large =
    .found = { $size ->
        [0] more bytes than may be read
       *[other] { $size } bytes
    }
    .allowed = up to { $most } bytes
    .mend = A shop file is a few pages of text.
shop-file-folder =
    .found = a folder
    .allowed = a TOML file
    .mend = Name the file inside it.
shop-file-nothing =
    .found = nothing that a shop has
    .allowed = the tables of a shop
    .mend = Take the file that was saved from here, or begin anew.
shop-file-missing =
    .found = no such file
    .allowed = a TOML file
    .mend = Check the name, or `kerfwind new { $given }`.
shop-file-unread =
    .found = { $why }
    .allowed = a file you may read
    .mend = Check its permissions.
shop-file-closed = unreadable
shop-file-cut_short =
    .found = UTF-16 cut short
    .allowed = text saved as UTF-8
    .mend = { -save-as-utf8 }
shop-file-binary =
    .found = a binary file
    .allowed = a text in TOML
    .mend = Name the shop file, not a picture or PDF.
shop-file-not_utf8 =
    .found = a byte that is not UTF-8 ({ $byte })
    .allowed = text saved as UTF-8
    .mend = { -save-as-utf8 }
shop-file-unmarked =
    .found = a binary file, or UTF-16 that does not say so
    .allowed = text saved as UTF-8
    .mend = Name the shop file itself. { -save-as-utf8 }

-save-as-utf8 = Save the file as UTF-8 in your editor.

## Keys and values that a shop file cannot have.

shop-found = `{ $text }`
shop-found-table = a table
shop-found-list = a list of { $items }
shop-found-nothing = nothing

# A quantity between its bounds.
shop-bounds = { $dimension } from { $low } to { $high }

shop-unknown_key =
    .found = unknown key `{ $given }`
    .allowed = { $keys }
    .mend = Remove it, or turn it into a # comment.
shop-unknown_key-near =
    .found = unknown key `{ $given }`
    .allowed = { $keys }
    .mend = Did you mean { $near }?
shop-missing =
    .found = `{ $given }` is missing
    .allowed = a value for it
    .mend = Add `{ $given } = …`.
shop-no_tool =
    .found = no tool
    .allowed = at least one
    .mend = Add one: a line [[tools]], then name = "…" and hood = "…" (`kerfwind new` shows how).
shop-long_list =
    .found = { $rows } of them
    .allowed = up to { $most }
    .mend = Leave out what this plan is not for, or make two files of it.

shop-value-no_text =
    .found = { $given }
    .allowed = { $bounds }
    .mend = Write it as a text, such as `{ $example }`.
shop-value-bare =
    .found = the bare number { $given }
    .allowed = { $bounds }
    .mend = Put it in quotes with its unit, such as "{ $example }".
shop-value-beyond =
    .found = `{ $given }`
    .allowed = { $bounds }
    .mend = Check the number and its unit.
shop-value-choice =
    .found = { $found }
    .allowed = { $choices }
    .mend = Use one of these.
shop-value-choice-near =
    .found = { $found }
    .allowed = { $choices }
    .mend = Did you mean { $near }?
shop-value-end =
    .found = { $found }
    .allowed = the name that its size is sold by ({ $names }), or { "{" } outside = "…", inside = "…" { "}" }
    .mend = If you measured it, say where: { "{" } outside = "…" { "}" } over its mouth, or { "{" } inside = "…" { "}" } in it.
shop-value-choices =
    .found = { $found }
    .allowed = a list of { $choices }
    .mend = Write it as ["{ $first }"].
shop-value-below =
    .found = { $found }
    .allowed = at least { $least }
    .mend = Check the number.
shop-value-above =
    .found = { $found }
    .allowed = at most { $most }
    .mend = Check the number.
shop-value-long =
    .found = { $found }
    .allowed = up to { $most } characters
    .mend = Shorten it.
shop-value-language =
    .found = { $found }
    .allowed = the tag of a language, such as `en`
    .mend = Write the tag in small letters, or leave `language` out for English.
shop-value-one_bracket =
    .found = { $found }
    .allowed = a list of tables
    .mend = Write its heading with two brackets, [[{ $heading }]], once for each.
shop-value-no_table =
    .found = { $found }
    .allowed = a table with keys of its own: { $keys }
    .mend = { -write-a-table }
shop-value-other_type =
    .found = { $found }
    .allowed = { $wanted ->
        [text] a text in quotes
        [truth] true or false
        [whole] a whole number
        [no_decimals] a whole number
        [number] a number
        [digits] a number
        [table] a table with keys of its own
       *[list] a list
    }
    .mend = { $wanted ->
        [text] Put quotes around it.
        [truth] Write true or false, without quotes.
        [whole] Write it without quotes or decimals.
        [no_decimals] Write it without decimals.
        [number] Write it without quotes or currency, such as 28.50.
        [digits] Write it in digits, such as 28.50.
        [table] { -write-a-table }
       *[list] Put it in [square brackets], or start each item with a [[…]] heading.
    }
shop-value-refused =
    .found = { $found }
    .allowed = { $why }
    .mend = Check the value.

-write-a-table = Write it as {"{"} key = value {"}"} or as [table].

shop-text-hidden =
    .found = { $char ->
        [control] a control character, { $code }
       *[invisible] an invisible character, { $code }
    }
    .allowed = what can be printed
    .mend = Take it out; this text stands on one line.
shop-text-long =
    .found = `{ $given }`, { $length } characters
    .allowed = up to { $most }
    .mend = Shorten it; `notes` under [about] have more room.
shop-text-long_word =
    .found = `{ $given }`, with a word of { $length } characters
    .allowed = words of up to { $most } characters
    .mend = Put a space into it: a table has no room for it on one line.
shop-text-empty_name =
    .found = an empty name
    .allowed = a name to know it by
    .mend = Write what you call it.

## Names that stand for nothing, or twice.

shop-no_such =
    .found = { $what ->
        [hood] `{ $given }`, which is no hood here
        [operation] `{ $given }`, which is no operation here
        [tool_hose] `{ $given }`, which is no hose for tools here
        [hose] `{ $given }`, which is no hose here
        [sheet] `{ $given }`, which is no sheet here
        [branch] `{ $given }`, which is no branch here
        [ready] `{ $given }`, which is no ready-made session here
       *[tool] `{ $given }`, which is no tool here
    }
    .allowed = { $known }
    .mend = { $what ->
        [hood] Use the name of one hood.
        [operation] Use the name of one operation.
        [tool_hose] Use the name of one hose for tools.
        [hose] Use the name of one hose.
        [sheet] Use the name of one sheet.
        [branch] Use the name of one branch.
        [ready] Use the name of one ready-made session, or list operations of your own.
       *[tool] Use the name of one tool.
    }
shop-no_such-near =
    .found = { $what ->
        [hood] `{ $given }`, which is no hood here
        [operation] `{ $given }`, which is no operation here
        [tool_hose] `{ $given }`, which is no hose for tools here
        [hose] `{ $given }`, which is no hose here
        [sheet] `{ $given }`, which is no sheet here
        [branch] `{ $given }`, which is no branch here
        [ready] `{ $given }`, which is no ready-made session here
       *[tool] `{ $given }`, which is no tool here
    }
    .allowed = { $known }
    .mend = Did you mean `{ $near }`?
shop-no_such-several =
    .found = { $what ->
        [hood] `{ $given }`, which is no hood here
       *[operation] `{ $given }`, which is no operation here
    }
    .allowed = { $known }
    .mend = Which of these is it? { $which }.
shop-candidate = `{ $name }`: { $means }
shop-quoted = `{ $name }`
shop-none = none is listed
shop-name_twice =
    .found = a second `{ $given }`
    .allowed = a name of its own for each
    .mend = Add a word to one of the names.
shop-many_operations =
    .found = { $rows } operations in all sessions together
    .allowed = up to { $most }
    .mend = Keep the sessions that are alike in one, or make two files of it.
shop-session-empty =
    .found = a session without operations
    .allowed = operations under a [[sessions.operations]] heading, or a ready-made session
    .mend = Add operations, or `ready = "shelves"`.
shop-session-only_swept =
    .found = a session in which nothing is done but sweeping
    .allowed = at least one operation that made the dust
    .mend = List what was worked before the sweeping, with its minutes.
shop-session-swept =
    .found = wood taken off by sweeping
    .allowed = no such weight: sweeping takes up what other operations made
    .mend = Write what was swept and weighed as the session's `floor`.
shop-tools-empty =
    .found = an empty list
    .allowed = at least one tool
    .mend = Add one with a [[tools]] heading.
shop-hoses-none_for_tools =
    .found = no hose that goes to the tools
    .allowed = at least one with use = "tool"
    .mend = Add one with a [[hoses]] heading, or leave all hoses out.

## Values that are each possible, but not together.

shop-bucket-other_shape =
    .found = { $shape ->
        [box] a box with { $fields }, but a box has no diameter
       *[round] a round bucket with { $fields }, but a round bucket has none
    }
    .allowed = { $shape ->
        [box] its length and width at the top, the floor and the rim
       *[round] its diameter at the top, the floor and the rim
    }
    .mend = Remove { $fields }, or choose another shape.
shop-bucket-wide_floor =
    .found = `{ $given }`, wider than the top, `{ $top }`
    .allowed = no wider than the top
    .mend = Swap them, or measure again.
shop-bucket-narrow_rim =
    .found = `{ $given }`, narrower than the wall under it
    .allowed = { $way ->
        [diameter] at least the top diameter
        [length] at least the top length
       *[width] at least the top width
    }
    .mend = Measure over the rim.
shop-bucket-wide_corner =
    .found = `{ $given }`, more than half its narrow side
    .allowed = up to half its narrow side
    .mend = Measure the radius of an upright corner.
shop-bucket-deep_rim =
    .found = `{ $given }`
    .allowed = less than half the bucket's height
    .mend = Measure from the top of the rim down.
shop-bucket-small =
    .found = `{ $given }` in a bucket that measures { $outside } outside
    .allowed = no more than its outside holds
    .mend = Check its sizes and their units, or the volume.
shop-bucket-large =
    .found = `{ $given }` in a bucket whose sizes hold { $inside } or more to the brim
    .allowed = no less than three fifths of what its sizes hold
    .mend = Check the volume, or its sizes and their units.

shop-low_caster =
    .found = a caster { $height } high with a wheel of { $wheel }
    .allowed = at least { $over } more than the wheel
    .mend = Measure the wheel across, and from the floor to the caster's plate.
shop-high_inlet =
    .found = `{ $given }`, above its height
    .allowed = at most { $top }
    .mend = Measure both from the floor.
shop-not_inside =
    .found = `{ $inside }`, not inside `{ $outside }`
    .allowed = less than the outside diameter
    .mend = Swap them, or measure again.
shop-thick_sheet =
    .found = `{ $given }`
    .allowed = less than its width
    .mend = Check the units.

shop-air-power_of_label =
    .found = `{ $sealed }` sealed and `{ $airflow }` open: { $power } of air from { $fed } of electricity
    .allowed = up to { $most }, half of what it is fed; shop vacuums reach a quarter
    .mend = Check the units of suction and airflow, and `amps` and `volts`.
shop-air-power_of_point =
    .found = `{ $suction }` at `{ $airflow }`: { $power } of air from { $fed } of electricity
    .allowed = up to { $most }, half of what it is fed; shop vacuums reach a quarter
    .mend = Check the units of suction and airflow, and `amps` and `volts`.
shop-air-flat =
    .found = `{ $first }` at the least airflow, `{ $last }` at the greatest
    .allowed = suction that falls as airflow grows
    .mend = Measure again, at airflows further apart.
shop-air-rises =
    .found = `{ $suction }` at `{ $airflow }`, more suction at more airflow
    .allowed = suction that falls as airflow grows
    .mend = Measure this point again.
shop-air-one_airflow =
    .found = { $points ->
        [one] one point
       *[other] { $points } points at one airflow
    }
    .allowed = two points or more, at different airflows
    .mend = Add a second point, or give label figures.

shop-home_test-beside_points =
    .found = a home test beside measured points
    .allowed = one of them
    .mend = Remove one of the two.
shop-home_test-thick_plate =
    .found = a hole of `{ $hole }` in a plate of `{ $plate }`
    .allowed = a plate at most half as thick as the hole is wide, better a tenth
    .mend = Use a thinner plate, or leave this hole out.
shop-home_test-wide_hole =
    .found = a hole of `{ $hole }` before a bore of { $bore }
    .allowed = at most { $most }
    .mend = Leave this hole out.
shop-home_test-one_hole =
    .found = { $holes ->
        [0] no hole
        [one] one hole size
       *[other] { $holes } different hole sizes
    }
    .allowed = two or more, better six
    .mend = Read the gauge at another hole.
shop-home_test-too_deep =
    .found = `{ $given }`
    .allowed = up to { $most }, more than any shop vacuum pulls
    .mend = Check the gauge and its unit.
shop-home_test-rises =
    .found = `{ $given }`, more than behind the smaller hole
    .allowed = suction that falls as the hole grows
    .mend = Read this one again.
shop-home_test-flat =
    .found = the same suction behind the smallest and the largest hole
    .allowed = suction that falls as the hole grows
    .mend = Read a larger hole too.

shop-branch-loop =
    .found = `{ $to }`, which comes back to `{ $run }`
    .allowed = runs that all end at `unit`
    .mend = Let one of them join `unit`.
shop-branch-called_unit =
    .found = `unit`
    .allowed = another name
    .mend = `unit` is where runs end.
shop-branch-joined_end =
    .found = an open end on a run that others join
    .allowed = an open end only where nothing joins
    .mend = Give it a run of its own.
shop-branch-tool_twice =
    .found = `{ $tool }`, which is on `{ $run }`
    .allowed = each tool on one run
    .mend = Name another tool.
shop-branch-all_shut =
    .found = every way to the unit shut by a gate
    .allowed = one open way or more
    .mend = Write gate = "open" where you work.

shop-tool-many_hoses =
    .found = { $hoses } hoses for tools
    .allowed = up to { $most }, to be weighed against each other
    .mend = Leave out those that never go to a tool, or are like another.
shop-tool-box_without_face =
    .found = `{ $hood }` without the face it covers
    .allowed = a hood box with its `opening`: its need of air is its face's
    .mend = { -add-opening }
shop-tool-made_without_face =
    .found = a hood box without the face it covers
    .allowed = a hood box with its `opening`
    .mend = { -add-opening }
shop-tool-nothing_covers =
    .found = an opening, with nothing to cover it
    .allowed = an opening beside `made`, or hood = "hood box"
    .mend = Add made = "plate", or leave the opening out.
shop-tool-guard =
    .found = `{ $made }` on a guard
    .allowed = a guard as its maker made it, with its own port: never bored, cut or boxed in
    .mend = Name its port, or take the dust from the saw with hood = "saw cabinet".
shop-tool-made_beside_port =
    .found = `{ $made }` beside a port
    .allowed = one of them: what is made takes the hose itself
    .mend = Remove `port`, or remove `made`.
shop-tool-plate_on_box =
    .found = `{ $made }` on a `{ $hood }`
    .allowed = made = "hood box" for that hood
    .mend = Write made = "hood box", or name the hood the plate goes onto.
shop-tool-side_of_plate =
    .found = `side`, of a plate
    .allowed = `back`: a plate has but one face
    .mend = Remove `bored`, or write made = "hood box".
shop-tool-outline_nowhere =
    .found = an outline without a place
    .allowed = an outline beside `place`
    .mend = Say where its middle stands, or leave the outline out.
shop-tool-beyond_wall =
    .found = { $part ->
        [outline] its outline { $over } beyond a wall
       *[middle] its middle { $over } beyond a wall
    }
    .allowed = { $side ->
        [length] inside the room's length, `{ $room }`
       *[width] inside the room's width, `{ $room }`
    }
    .mend = Measure place and outline again; `place` is the outline's middle.

-add-opening = Add opening = {"{"} length = "…", width = "…" {"}"}.

## Why a value was assumed.

assumed-middling_vacuum = a middling shop vacuum
assumed-round_dolly = most shop vacuums stand on a round dolly
assumed-tank = usual for a tank of { $tank }
assumed-round_vacuum = a round vacuum is as wide as it is long
assumed-usual_place = usual place on a shop vacuum
assumed-used_filter = a filter is seldom clean
assumed-thin_plate = a thin sheet or lid
assumed-lower_reading = the lower of the two
assumed-label_figures = figures like these are mostly read from a label
assumed-greatest_suction = the greatest suction read
assumed-straight_to_no_airflow = the greatest suction read, and straight on to no airflow
assumed-straight_to_no_suction = from the greatest airflow read straight on to no suction
assumed-readings_silent = usual; the readings do not tell
assumed-input_power = from the motor's input power at a usual fan efficiency
assumed-one_fan_stage = usual for a shop vacuum with one fan stage; the label or a gauge tells
assumed-tapered = buckets that nest are tapered
assumed-plastic = most buckets, drums and boxes are
assumed-smallest_drum = the smallest usual drum
assumed-middling_box = a middling storage box
assumed-usual_bucket = the usual bucket under a small cyclone
assumed-bucket = { $shape ->
    [drum] usual for a drum of { $volume }
    [box] usual for a box of { $volume }
   *[bucket] usual for a bucket of { $volume }
}
assumed-small_cyclone = usual for a small cyclone on a bucket
assumed-straight_drum = a drum is straight
assumed-rimless = it has no rim
assumed-drum_under_rim = usual for a drum of its size under the rim
assumed-storage_box = usual for a storage box
assumed-box_under_rim = usual for a box of its size under the rim
assumed-no_hose_listed = no hose is listed; vacuums are sold with one
assumed-ribbed = most vacuum hoses are ribbed inside
assumed-bend_in_bores = one and a half to three bores
assumed-cuff_over_bore = a cuff's outside is from the hose's bore to 8 mm over it
assumed-usual_with = usual with { $hood }
assumed-usual_on = usual on { $hood }
assumed-home_tools = portable and bench tools on a home circuit
assumed-curve_or_two = a hose lies in a curve or two
assumed-bench_or_floor = from a bench or a floor tool to the unit
assumed-usual_wye = the usual wye
assumed-loose_fitting = usual for a loose fitting
assumed-elbow = usual
assumed-no_sheet_listed = no sheet is listed; a size usual on sale
assumed-usual_end = usual for its size
assumed-us_gallon = a gallon without a country is taken for a US one; write `UK gal` or litres where it is another
assumed-nominal = what a { $nominal } end is found to measure; the name is no measurement
assumed-end_walls = walls of ends are 1.5 to 3.5 mm
assumed-unknown_end = neither its size nor its name is given
assumed-push_fit = usual depth of a push fit
assumed-moulded_taper = moulded ends taper a little
assumed-hangs_by_rim = a straight bucket can only hang by its rim
assumed-heavy_drum = a drum's rim is narrow, and a full drum is heavy to hang
assumed-box_stands = a box of which the rim is not known stands safest
assumed-rim_holds = a rim holds a tapered bucket at a known height
assumed-usual_saw = the usual saw for sheets
assumed-full_kerf = a full-kerf blade
assumed-knocked_edge = enough to clean a knocked factory edge
assumed-common_fence = a common fence
assumed-near_the_blade = below this a hand comes too near the blade
assumed-whole_sheet = a whole sheet is carried
assumed-one_car_garage = a one-car garage
assumed-where_people_live = where most people live
assumed-unheated_garage = an unheated garage
assumed-usual_voltage = usual where the units are used
assumed-smaller_circuit = the smaller of the usual circuits
assumed-one_circuit = most garages have one circuit
assumed-smallest_footprint = the smallest footprint
assumed-kind_that_passes = the usual cart misses a check or a wish, this one is the cheapest that does best
assumed-garage_corner = a corner of a small garage
assumed-within_reach = lid and hose within reach
assumed-lift_out = to lift the vacuum out without a fight
assumed-no_wider = no wider than it must be
assumed-no_deeper = no deeper than it must be
assumed-as_steady_as_needed = as much as it takes to stand firmly
assumed-tug_at_the_bottom = so that a tug on the hose does not tip it
assumed-house_doors = house doors; measure the one it must pass
assumed-rolls_over = rolls over a cord and a threshold
assumed-swivel_caster = usual for a 3 in swivel caster
assumed-stays_to_tidy = some stay to tidy up, some leave
assumed-emptied_inside = the worse of the two
assumed-nothing_said = nothing is said of it
assumed-ready_made = from the ready-made session { $session }
assumed-by_hand = no tool is named
assumed-wood_unnamed = no wood is named
assumed-usual_work = usual for { $operation } in a home workshop; the range is wide
assumed-middling_grit = a middling grit
assumed-rules_by_voltage = by the circuit's voltage
assumed-leaky_garage = a closed room's leaks; the tighter, the less
assumed-door_shut = nothing is said of a door; shut is the worse
assumed-no_class = shop vacuums are sold without a class
assumed-cartridge = from a flat disc to a pleated cartridge
assumed-side_by_side = vacuum and bucket stand side by side in the `low` form

choice-yes = yes
choice-no = no

## Fittings on sale.

fitting-reducer-over-n-in-into-n-in = reducer over { $first } in, into { $second } in
fitting-reducer-into-n-in-into-n-in = reducer into { $first } in, into { $second } in
fitting-reducer-into-n-in-over-n-in = reducer into { $first } in, over { $second } in
fitting-reducer-over-n-mm-into-n-mm = reducer over { $first } mm, into { $second } mm
fitting-reducer-into-n-mm-into-n-mm = reducer into { $first } mm, into { $second } mm
fitting-reducer-into-n-mm-over-n-mm = reducer into { $first } mm, over { $second } mm
fitting-coupling-n-in-over-both = coupling { $first } in, over both
fitting-coupling-n-in-into-both = coupling { $first } in, into both
fitting-coupling-n-mm-over-both = coupling { $first } mm, over both
fitting-coupling-n-mm-into-both = coupling { $first } mm, into both
fitting-rubber-coupling-n-in-by-n-in-pipe-with-clamps = rubber coupling { $first } in by { $second } in pipe, with clamps
fitting-quick-coupling-half-over-n-in = quick coupling half, over { $first } in
fitting-quick-coupling-half-into-n-in = quick coupling half, into { $first } in
fitting-quick-coupling-half-over-n-mm = quick coupling half, over { $first } mm
fitting-quick-coupling-half-into-n-mm = quick coupling half, into { $first } mm
