## What is put on the saw and comes off it.

cutting-piece-sheet = sheet { NUMBER($number, useGrouping: 0) }
cutting-piece-offcut = offcut of sheet { NUMBER($sheet, useGrouping: 0) }
cutting-piece-waste = waste

cutting-sheets = sheets

cutting-cut-from = { $gives } from { $piece }
cutting-cut-gives = { $piece } (rest { $rest })

## A step: cuts made at one setting.

cutting-step-fence = { $cut ->
    [trim] Trim, fence at { $setting }: { $cuts }.
    [rip] Rip, fence at { $setting }: { $cuts }.
   *[crosscut] Crosscut, fence at { $setting }: { $cuts }.
}
cutting-step-stop = Narrow rip, stop on the open side of the blade { $setting } from it: bring the board to the stop, the fence to the board, then cut: { $cuts }.
cutting-step-sled = On the sled, stop at { $setting }: { $cuts }.
cutting-step-store = { $cut ->
    [trim] Trim, in the store, { $setting } from the edge: { $cuts }.
    [rip] Rip, in the store, { $setting } from the edge: { $cuts }.
   *[crosscut] Crosscut, in the store, { $setting } from the edge: { $cuts }.
}
cutting-step-line = { $cut ->
    [trim] Trim, line { $setting } from the edge: { $cuts }.
    [rip] Rip, line { $setting } from the edge: { $cuts }.
   *[crosscut] Crosscut, line { $setting } from the edge: { $cuts }.
}
cutting-step-guided = { $cut ->
    [trim] Trim, line { $setting } from the edge (straightedge { $guide } from it): { $cuts }.
    [rip] Rip, line { $setting } from the edge (straightedge { $guide } from it): { $cuts }.
   *[crosscut] Crosscut, line { $setting } from the edge (straightedge { $guide } from it): { $cuts }.
}

## Cautions of a cut: in full, and in a few words that say by themselves what to do.

cutting-caution-narrow = Too narrow between blade and fence to push safely. Let the narrow piece fall on the far side of the blade: run the wide piece along the fence, or cut it by hand or with a track saw.
    .title = Narrow
    .brief = Narrow: wide piece along the fence, narrow one falls free.
cutting-caution-narrow_falls = A narrow piece comes off: stand aside and do not reach for it until the blade stops.
    .title = Narrow piece falls
    .brief = Narrow piece falls: stand aside, let the blade stop.
cutting-caution-short = Too short to hold by hand: clamp it to the sled, cut it from a longer piece first, or use a hand saw.
    .title = Short on the sled
    .brief = Short on the sled: clamp it, never hold it by hand.
cutting-caution-short_falls = A short piece comes off: clamp it to the sled and keep fingers clear.
    .title = Short piece falls
    .brief = Short piece falls: clamp it to the sled.
cutting-caution-small = Too small to lie still by itself: clamp or tape it to scrap of the same thickness that carries the track or straightedge too, or use a hand saw.
    .title = Small
    .brief = Small: clamp or tape it to scrap first.
cutting-caution-large = Larger than the fence or sled takes: clamp a straightedge and follow a line with a circular or track saw.
    .title = Large
    .brief = Large: straightedge and hand-guided saw.
cutting-caution-marked = Farther than the sled's stop reaches: mark the line and cut it on the sled, with the long end held up.
    .title = To a mark
    .brief = Beyond the stop: cut to a mark on the sled, long end held up.

cutting-caution-track = Longer than the track: join two tracks, or clamp a straightedge over the whole length.
    .title = Longer than the track
    .brief = Longer than the track: join two, or straightedge.
cutting-caution-left_over = No wood is left for one more cut: a panel is as large as this cut leaves it, give or take the kerf. Measure the piece first, and share what is lacking among the panels.
    .title = Panel left over
    .brief = Panel left over: measure the piece first.
cutting-caution-grazing = No more than the blade's width comes off, so the blade may lean towards the open side: hold the piece hard against the fence or clamp it, and feed slowly.
    .title = Blade at the edge
    .brief = Blade at the edge: hold hard to the fence, feed slowly.

## Sheets that nobody named.

cutting-sheet-full = full sheet of { $material }, { $thickness } thick
cutting-sheet-of_line = sheet of line { NUMBER($line, useGrouping: 0) }
cutting-sheet-on_hand = { $sheet } on hand
cutting-sheet-pencilled = piece { $name } of sheet { NUMBER($sheet, useGrouping: 0) }
cutting-sheet-piece = piece { NUMBER($piece, useGrouping: 0) } of sheet { NUMBER($sheet, useGrouping: 0) }
cutting-sheet-cut_short = { $panel }, cut short
cutting-sheet-again = { $sheet } again

## How near a nest is to the fewest sheets.

cutting-nearness = sheets used against the fewest possible
cutting-nearness-good = { $nearness }
cutting-nearness-open = { $nearness }

cutting-nearness-none_bought = No sheet to buy: fewest possible, proven.
cutting-nearness-fewest = { $sheets ->
    [one] { $sheets } sheet: fewest possible, proven.
   *[other] { $sheets } sheets: fewest possible, proven.
}
cutting-nearness-cheapest = { $sheets ->
    [one] { $sheets } sheet, priced { $price } together: cheapest possible, proven.
   *[other] { $sheets } sheets, priced { $price } together: cheapest possible, proven.
}
cutting-nearness-fewest_not_cheapest = { $sheets ->
    [one] { $sheets } sheet, priced { $price }: no fewer possible. No cheaper layout was found; none costs less than { $least }.
   *[other] { $sheets } sheets, priced { $price } together: no fewer possible. No cheaper layout was found; none costs less than { $least }.
}
cutting-nearness-not_cheapest = { $sheets }, priced { $price } together: at most { $more } above the least possible.
cutting-nearness-not_proven = { $sheets }: at most { $more } from the fewest possible.

cutting-sheets-counted = { $count ->
    [one] { $count } sheet
   *[other] { $count } sheets
}
cutting-sheets-few = { $count ->
    [1] one sheet
    [2] two sheets
    [3] three sheets
   *[other] { $count } sheets
}

cutting-store-fewest = { $sheets ->
    [one] To carry it home takes { $cuts } cut in the store, the fewest possible.
   *[other] To carry them home takes { $cuts } cuts in the store, the fewest possible.
}
cutting-store-perhaps_more = { $sheets ->
    [one] To carry it home takes { $cuts } cuts in the store: fewer sheets come first, so this may not be the fewest cuts.
   *[other] To carry them home takes { $cuts } cuts in the store: fewer sheets come first, so this may not be the fewest cuts.
}

## What cannot be nested.

cutting-panel-size = Panel “{ $panel }”: its { $side ->
    [length] length
   *[width] width
} is { $size }; from { $least } to { $most } is nested. { cutting-panel-size.mend }
    .found = { $side ->
        [length] a length of { $size }
       *[width] a width of { $size }
    }
    .allowed = from { $least } to { $most }
    .mend = Check the unit.
cutting-panel-quantity = Panel “{ $panel }”: quantity { $count }; it must be 1 or more. { cutting-panel-quantity.mend }
    .found = a quantity of { $count }
    .allowed = 1 or more
    .mend = Leave the row out if none is wanted.
cutting-panel-same_name = { $count } panels are called “{ $panel }”. { cutting-panel-same_name.mend }
    .found = { $count } panels that are called “{ $panel }”
    .allowed = a name for each row
    .mend = Give each row a name of its own.
cutting-panel-too_many = { $count } panels are asked for; at most { $most } are nested at once. { cutting-panel-too_many.mend }
    .found = { $count } panels
    .allowed = { $most } panels at once
    .mend = Check the quantities, or split the list.
cutting-panel-too_large = { $grain ->
    [free] Panel “{ $panel }”: { $length } by { $width } fits on no sheet; the largest, “{ $sheet }”, leaves { $sheet-length } by { $sheet-width }. { cutting-panel-too_large.mend }
    [along] Panel “{ $panel }”: { $length } by { $width } fits on no sheet with its grain along the sheet's length; the largest, “{ $sheet }”, leaves { $sheet-length } by { $sheet-width }. { cutting-panel-too_large.mend }
   *[across] Panel “{ $panel }”: { $length } by { $width } fits on no sheet with its grain across the sheet's length; the largest, “{ $sheet }”, leaves { $sheet-length } by { $sheet-width }. { cutting-panel-too_large.mend }
}
    .found = { $grain ->
        [free] { $length } by { $width }, which fits on no sheet
        [along] { $length } by { $width }, which fits on no sheet with its grain along the sheet's length
       *[across] { $length } by { $width }, which fits on no sheet with its grain across the sheet's length
    }
    .allowed = what the largest sheet, “{ $sheet }”, leaves: { $sheet-length } by { $sheet-width }
    .mend = Make it smaller, join it from two, or add a larger sheet.
cutting-panel-not_carried = Panel “{ $panel }”: { $length } by { $width } is larger than the biggest piece that can be carried, { $carry-length } by { $carry-width }. { cutting-panel-not_carried.mend }
    .found = { $length } by { $width }
    .allowed = the biggest piece that can be carried, { $carry-length } by { $carry-width }
    .mend = Have it delivered, or join it from two.

cutting-stock-size = Sheet “{ $sheet }”: { $length } by { $width }; both sides must be more than zero and at most { $most }. { cutting-stock-size.mend }
    .found = { $length } by { $width }
    .allowed = both sides more than zero and at most { $most }
    .mend = Check the unit.
cutting-stock-price = Sheet “{ $sheet }”: price { $price }; it must be zero or more.
    .found = a price of { $price }
    .allowed = zero or more
    .mend = Write what one sheet costs.
cutting-stock-limit = Sheet “{ $sheet }”: { $count } on hand; it must be zero or more.
    .found = { $count } on hand
    .allowed = zero or more
    .mend = Count the sheets.
cutting-stock-none = No sheet of { $material } { $thickness } thick is listed, and “{ $panel }” needs one. { cutting-stock-none.mend }
    .found = { $material } { $thickness } thick, of which no sheet is listed
    .allowed = a material and thickness of a sheet that is listed
    .mend = Add a sheet of that material and thickness.
cutting-stock-too_few = The sheets of { $material } listed cannot hold all its panels: these take { $needed } with their kerfs, the sheets have { $there }. { cutting-stock-too_few.mend }
    .found = panels of { $material } that take { $needed } with their kerfs, on sheets of { $there } in all
    .allowed = as many as the sheets hold
    .mend = Raise the limits or add sheets.
cutting-stock-too_few_sheets = All panels of { $material } take { $least ->
    [one] { $least } sheet
   *[other] { $least } sheets
} at least, however they are laid; there { $there ->
    [0] is none
    [one] is { $there }
   *[other] are { $there }
}. { cutting-stock-too_few_sheets.mend }
    .found = { $there ->
        [0] no sheet of { $material }
        [one] { $there } sheet of { $material }
       *[other] { $there } sheets of { $material }
    }
    .allowed = { $least } at least, however the panels are laid
    .mend = Raise the limits or add sheets.
cutting-stock-not_found = Not found within this effort: a place for { $left }. { cutting-stock-not_found.mend }
    .found = no place within this effort for { $left }
    .allowed = as many as the sheets hold; nothing proves that they cannot hold these
    .mend = Spend more effort, raise the limits or add sheets.
cutting-left-more = { $count } others
cutting-left-panel = { $count } of { $panel }

cutting-saw-kerf = Saw: kerf { $kerf }; a blade cuts between 0 and { $most }. { cutting-saw-kerf.mend }
    .found = { $kerf }
    .allowed = from 0 to { $most }, as a blade cuts
    .mend = Check the unit.
cutting-saw-trim = Saw: trim { $trim }; between 0 and { $most } is taken off an edge. { cutting-saw-trim.mend }
    .found = { $trim }
    .allowed = from 0 to { $most }, off each edge
    .mend = Check the unit.

cutting-cannot_nest = panels on sheets
    .do = Add a larger sheet to the shop file.
cutting-cannot_nest-refused = No cart can be built. { $sheet }: { $problem }

## Faults of a list of panels.

cutting-list-no_file =
    .found = { $why }
    .allowed = a CSV or TOML file
    .mend = Check the name and that it may be read.
cutting-plan-no_panels =
    .found = no plan with panels
    .allowed = the plan.json of a plan that has a cart
    .mend = Run `kerfwind plan` on the shop file again, and take the plan.json that it writes.
cutting-plan-half =
    .found = a plan of which some panels were cut before it was made
    .allowed = a plan that has all its panels on its sheets
    .mend = Write what is cut since under [[built]] in the shop file, and plan again.
cutting-plan-other =
    .found = a plan whose sheets this version of the program lays out another way
    .allowed = a plan made by this version, where cuts are told by their numbers
    .mend = Go on by the names of panels, or list what is left of the sheets as offcuts.
cutting-list-too_long =
    .found = { $given ->
        [0] more bytes than that
       *[other] { $given } bytes
    }
    .allowed = at most { $most }
    .mend = Split the list.
cutting-list-not_text =
    .found = bytes that are not text
    .allowed = UTF-8 text
    .mend = Save it as CSV in UTF-8.
cutting-list-not_csv =
    .found = `{ $why }`
    .allowed = CSV with matching quotes
    .mend = Write `"` inside quotes as `""`.
cutting-list-many_columns =
    .found = { $given } columns
    .allowed = at most { $most }
    .mend = Keep the columns of panels: { $kept }.
cutting-list-many_rows =
    .found = { $what ->
        [sheets] { $given } rows of sheets
       *[panels] { $given } rows of panels
    }
    .allowed = at most { $most }
    .mend = Split the list.
cutting-list-thin =
    .found = { $side }
    .allowed = at least half the saw's kerf of { $kerf }
    .mend = Check the unit: so thin a strip does not outlast the cut.
cutting-short-larger =
    .found = `{ $given }`, larger than { $panel } was planned
    .allowed = up to its planned size, { $length } x { $width }
    .mend = { $sides ->
        [swapped] Its length comes first: swap the two.
       *[kept] A panel that came out too large is cut down to its size; check the unit.
    }
cutting-list-empty =
    .found = nothing
    .allowed = a row of column names
    .mend = Start with `name,length,width,quantity`.
cutting-list-no_panel =
    .found = no panel
    .allowed = one panel or more
    .mend = Add a row for each panel.
cutting-list-no_column =
    .found = `{ $given }`
    .allowed = columns { $allowed }
    .mend = Add a column `{ $needed }` to the first row.
cutting-list-doubled =
    .found = two columns
    .allowed = one column of each name
    .mend = Rename one.
cutting-list-cells =
    .found = { $given } cells
    .allowed = { $wanted } as in the first row
    .mend = Put cells that hold `{ $delimiter }` in quotes.
cutting-list-no_tables =
    .found = `{ $given }`
    .allowed = tables `[[{ $table }]]`
    .mend = Write it so.
cutting-list-no_saw =
    .found = `{ $given }`
    .allowed = a table `[saw]`
    .mend = Write it so.
cutting-list-meant =
    .found = `{ $given }`
    .allowed = { $allowed }
    .mend = Did you mean `{ $meant }`?
cutting-list-unknown =
    .found = `{ $given }`
    .allowed = { $allowed }
    .mend = Rename it or take it out.
cutting-list-no_name =
    .found = nothing
    .allowed = a name
    .mend = Name the panel, such as `left side`.
cutting-list-no_text =
    .found = `{ $given }`
    .allowed = a text in quotes
    .mend = Put quotes around it.
cutting-list-not_printed =
    .found = `{ $given }`
    .allowed = what can be printed
    .mend = { $char ->
        [control] Take out a control character, { $code }.
       *[invisible] Take out an invisible character, { $code }.
    }
cutting-list-no_length =
    .found = nothing
    .allowed = a length such as `600 mm` or `2-1/4 in`
    .mend = Fill it in.
cutting-list-range =
    .found = `{ $given }`
    .allowed = one size, as it is to be cut or was measured
    .mend = Write the one size.
cutting-list-too_large =
    .found = `{ $given }`
    .allowed = up to { $most }
    .mend = Check the unit.
cutting-list-not_over_zero =
    .found = `{ $given }`
    .allowed = a length over zero
    .mend = Correct it, or take the row out.
cutting-list-word =
    .found = `{ $given }`
    .allowed = { $allowed }
    .mend = Write one of these, or leave it empty.
cutting-list-number =
    .found = `{ $given }`
    .allowed = a whole number from 1
    .mend = Count the pieces wanted.
cutting-list-price =
    .found = `{ $given }`
    .allowed = a number from 0, without a sign for money
    .mend = Correct it.
cutting-list-edge =
    .found = `{ $given }`
    .allowed = { $allowed }
    .mend = Name the edges that get banding.
cutting-list-no_edges =
    .found = a thickness of banding, but no edge that gets any
    .allowed = { $allowed }, all, long or short
    .mend = Name the edges that get banding, or leave its thickness out.
cutting-list-thick_band =
    .found = { $given }
    .allowed = banding thinner than half the panel
    .mend = Check the unit.
cutting-list-two_sizes =
    .found = `{ $mm } mm, and { $said }`
    .allowed = one size, twice
    .mend = Correct the one that is wrong, or leave the one in words empty.

## What was taken as usual where a list does not say.

cutting-assumed-columns = columns not used: { $columns }
cutting-assumed-renamed = line { NUMBER($line, useGrouping: 0) }: a second “{ $name }” is called { $again }
cutting-assumed-sheets = sheets of { $length } by { $width }, as many as wanted: the list names none
cutting-assumed-alone = { $given } is not used without { $missing }
cutting-assumed-price = a price by area, as the others cost, for { $sheets }
cutting-assumed-saw = a table saw with a kerf of { $kerf }: the list names no saw

## Going on with a build that is half done.

cutting-done-no_cuts =
    .found = `{ $given }`
    .allowed = cuts from 1 to { NUMBER($cuts, useGrouping: 0) }, sheets from 1 to { NUMBER($sheets, useGrouping: 0) }, or names pencilled on pieces that are there: `1-7, 9, sheet 2, A1, 3b`
    .mend = Write the numbers or names on the cuts' page.
cutting-done-too_early =
    .found = `{ $given }`
    .allowed = cuts whose pieces were cut free before
    .mend = Cut { NUMBER($cut, useGrouping: 0) } does not run from edge to edge of any piece there. Add the cuts before it too, or take it out: a piece has to be cut free before it can be cut further.

cutting-short-not_made =
    .found = `{ $given }`
    .allowed = { $count ->
        [0] a panel that is made (none is made yet) and its size, `A1 = 780 mm x 498 mm` or `A1 = 30-3/4 in x 19-5/8 in`
       *[other] a panel that is made ({ $made }) and its size, `A1 = 780 mm x 498 mm` or `A1 = 30-3/4 in x 19-5/8 in`
    }
    .mend = Say with --done that its cuts are made, and measure it.
cutting-short-zero =
    .found = `{ $given }`
    .allowed = a length over zero
    .mend = Measure it again.

cutting-short-use = { $panel } is as good as its size: use it.
cutting-short-shim = { $panel } is short by { $lacking }: glue on a strip that thick and plane it flush, where the edge carries no screws.
cutting-short-in_length = { $by } in length
cutting-short-in_width = { $by } in width
cutting-short-recut = { $sheets ->
    [0] Cut { $panel } again: it takes no new sheet.
    [one] Cut { $panel } again: it takes { $sheets } more sheet.
   *[other] Cut { $panel } again: it takes { $sheets } more sheets.
}
cutting-short-follow = Let the design follow: set { $panel } to { $length } by { $width } and plan again; panels that meet it change too.

## What an independent look at a nest finds wrong.

cutting-wrong-numbers = The cuts are not numbered one after another.
cutting-wrong-not_edge_to_edge = Cut { $cut } does not run from edge to edge of any piece there.
cutting-wrong-setting = Cut { $cut } is not made at the setting of its step.
cutting-wrong-sheet = Sheet { $sheet } is of a kind that is not listed.
cutting-wrong-not_listed = { $panel } is not in the panel list.
cutting-wrong-not_off = { $panel } does not come off sheet { $sheet } in its size.
cutting-wrong-trimmed = { $panel } lies in the trimmed edge.
cutting-wrong-beyond = { $panel } lies in the trimmed edge or beyond the sheet.
cutting-wrong-size = { $panel } has not the size of { $row }.
cutting-wrong-across_grain = { $panel } lies across the grain.
cutting-wrong-along_grain = { $panel } lies along the grain.
cutting-wrong-material = { $panel } lies on a sheet of the wrong material or thickness.
cutting-wrong-offcut = An offcut of sheet { $sheet } does not come off as drawn.
cutting-wrong-count = { $made } of { $panel } come off; { $wanted } are wanted.
cutting-wrong-same_name = Two pieces are both called { $panel }.
cutting-wrong-limit = { $used } sheets of { $sheet } are used; there are { $there }.
cutting-wrong-overlap = Two pieces of sheet { $sheet } overlap.
