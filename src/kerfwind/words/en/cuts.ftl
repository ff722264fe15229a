## A list of cuts as it is shown.

grain-along = along its length
grain-across = across
grain-free = either way

cut-kind-trim = trim
cut-kind-rip = rip
cut-kind-crosscut = crosscut

cut-how-fence = fence
cut-how-stop = stop by the blade
cut-how-sled = sled
cut-how-line = line
cut-how-store = store

cuts-column-step = step
cuts-column-cut = cut
cuts-column-sheet = sheet
cuts-column-kind = kind
cuts-column-guided-by = guided by
cuts-column-setting-mm = setting mm
cuts-column-setting = setting
cuts-column-is-the-size-of = is the size of
cuts-column-length-mm = length of cut mm
cuts-column-piece = piece
cuts-column-gives = gives
cuts-column-rest = rest

cuts-step-column-cut = cut
cuts-step-column-sheet = sheet
cuts-step-column-what = what
cuts-step-column-set-to = set to
cuts-step-column-gives = gives
cuts-in_short = In the table in short:

cuts-panel-column-mark = mark
cuts-panel-column-panel = panel
cuts-panel-column-number = number
cuts-panel-column-length = length
cuts-panel-column-width = width
cuts-panel-column-thick = thick
cuts-panel-column-grain = grain

cuts-head-buy = What to buy
cuts-buy-column-what = what
cuts-buy-column-size = size
cuts-buy-column-count = number
cuts-buy-column-each = each
cuts-buy-column-total = together
cuts-buy-sheet = { $sheet }
cuts-buy-on_hand = { $sheet }: on hand, nothing to buy
cuts-buy-banding = edge banding for { $material }
cuts-buy-edges = { $count ->
    [one] { $count } edge
   *[other] { $count } edges
}
cuts-buy-total = Sheets together: { $price }.
cuts-bought = { $what }: { $count }.
cuts-label-size = { $length } × { $width } × { $thickness }
cuts-label-where = sheet { NUMBER($sheet, useGrouping: 0) } · { $material }
cuts-label-edges = band: { $edges }
cuts-label-finished = with its banding { $length } × { $width }
cuts-banding_allowed = Sizes are those to cut: with banding { $thickness } thick on the edges that get it, each panel comes to the size that the list gives.
cuts-labels = Part labels
cuts-labels-beside = Labels for the first { $count } panels alone; print the others from a shorter list.

edge-near = near
edge-far = far
edge-left = left
edge-right = right

cuts-head-panels = Panels
cuts-head-assumed = Taken as usual, since the list does not say
cuts-head-stays = What is there already
cuts-head-sheets = Sheets
cuts-head-cuts = Cuts in order

cuts-sheet = { $anew ->
    [yes] Sheet { NUMBER($number, useGrouping: 0) } from here on: { $sheet }
   *[no] Sheet { NUMBER($number, useGrouping: 0) }: { $sheet }
}
cuts-alike = Sheets { $numbers } (× { $count }): { $sheet }
cuts-size = { $length } × { $width } × { $thickness }
cuts-as_it_comes = no cut: the sheet is the panel
cuts-used = { $share } of it becomes panels.
cuts-used_and_key = { $share } of it becomes panels. Waste is hatched; numbers in circles are the cuts in order.

## How a list came out.

cuts-progress = { $sheets ->
    [one] { $sheets } sheet so far; { $share } of the effort
   *[other] { $sheets } sheets so far; { $share } of the effort
}
cuts-assumed = Assumed: { $what }.
cuts-stopped = The search was stopped early; this is the best it had found.
cuts-counts = { $sheets }, { $settings }, { $waste } waste.
cuts-counts-sheets = { $count ->
    [one] { $count } sheet
   *[other] { $count } sheets
}
cuts-counts-pieces = { $count ->
    [one] { $count } piece or sheet
   *[other] { $count } pieces and sheets
}
cuts-counts-settings = { $count ->
    [one] { $count } setting
   *[other] { $count } settings
}
cuts-open = At most { $count ->
    [0] no part-cut piece lies
    [one] { $count } part-cut piece lies
   *[other] { $count } part-cut pieces lie
} about at once.
cuts-ordering = putting the cuts in order
cuts-labelling = setting the labels

cuts-writing_on = Writing goes on with the best so far; press Ctrl-C again to give up.
cuts-drawing = drawing sheet { $number } of { $total }
cuts-setting = setting the pages of { $total } sheets
cuts-beside = sheets { $first } to { $last } are drawn in files beside this one
cuts-panels_beside = the first { $count } panels stand here, all of them in panels.csv
cuts-long = { $sheets } sheets to draw: this takes about { $minutes ->
    [one] a minute
   *[other] { $minutes } minutes
}.
cuts-drawings = { $count ->
    [one] { $count } more drawing
   *[other] { $count } more drawings
}
cuts-results = Results: { $files }

## What is there already of a half-done build.

cuts-all_made = Every panel is made; nothing is left to cut.
cuts-made = { $cuts ->
    [one] { $count ->
        [0] { $cuts } cut made. Panels that are finished: none.
       *[other] { $cuts } cut made. Panels that are finished: { $panels }.
    }
   *[other] { $count ->
        [0] { $cuts } cuts made. Panels that are finished: none.
       *[other] { $cuts } cuts made. Panels that are finished: { $panels }.
    }
}
cuts-panel = { $pencil } ({ $panel })
cuts-lying = Pieces lying there: { $pieces }.
cuts-lying_piece = { $piece }, { $length } by { $width }
cuts-not_begun = Not begun yet: { $sheets }.
cuts-several = { $count } of { $sheet }
cuts-short = { $panel } came out short. { $ways }
cuts-or = Or: { $way }

## A drawing of a sheet.

cuts-drawn = { $offcut ->
    [yes] Offcut { NUMBER($number, useGrouping: 0) }
   *[no] Sheet { NUMBER($number, useGrouping: 0) }
}
cuts-drawn-offcut = offcut { $length } × { $width }
cuts-drawn-mark = mark
cuts-drawn-numbers = numbers are cuts
cuts-drawn-pieces = small letters are pieces with cuts to come
cuts-drawn-many = cuts are numbered in the table
cuts-drawn-crowded = sizes stand in the table of panels
cuts-drawn-grain = arrows show the grain
cuts-drawn-marks = holes and cut corners have their sizes on the panel's own drawing
cuts-drawn-banded = dark edges get banding
cuts-drawn-alike = the letters alone: each sheet has its own numbers behind them
cuts-drawn-broken = broken where it is empty

## The list of a plan's panels as a table; the list of panels that is read knows the English titles.

cuts-panels-csv-mark = mark
cuts-panels-csv-panel = panel
cuts-panels-csv-number = number
cuts-panels-csv-length-mm = length mm
cuts-panels-csv-width-mm = width mm
cuts-panels-csv-thickness-mm = thickness mm
cuts-panels-csv-length = length
cuts-panels-csv-width = width
cuts-panels-csv-thickness = thickness
cuts-panels-csv-grain = grain
