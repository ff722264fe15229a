## The page: what stands around the answers.

app-title = { $name } · kerfwind
app-untitled = A shop
app-file = The file
app-checking = Still checking the rest …
app-nothing_yet = Nothing can be said until the fields that are marked are mended.
app-answer-faulty = { $count ->
    [one] One field cannot be understood yet; what is shown is of the last file that could be.
   *[other] { $count } fields cannot be understood yet; what is shown is of the last file that could be.
}
app-answer-contradicting = { $count ->
    [one] Something that was entered contradicts something else: To do says what, and what mends it. What is shown is of the last shop that did not.
   *[other] { $count } things that were entered contradict something else: To do says what, and what mends them. What is shown is of the last shop that did not.
}
app-answer-no_tool = No plan yet: touch the tools that you have, under Start.
app-add = Add one
app-remove = Take away
app-new_row = new
app-assumed = assumed: { $text }
app-undo = Undo
app-redo = Redo
app-undo-set = Undo: { $field } back to { $value }
app-undo-none = Undo: { $field } left open again
app-undo-row = Undo: { $field }
app-undo-several = Undo: { $count } changes together
app-redo-several = Redo: { $count } changes together
app-redo-set = Redo: { $field } to { $value }
app-redo-none = Redo: { $field } left open
app-redo-row = Redo: { $field }
app-yes = yes
app-no = no
app-changed = What that changed
app-changed-nothing = None of the answers changed by that.
app-changed-more = and { $count } more
app-changed-new = new
app-changed-gone = gone
app-theme = Light or dark
app-saved = Saved
app-lost = No connection; what you change is kept here and sent when it is back.
app-waiting = { $count ->
    [one] One change waits to be saved.
   *[other] { $count } changes wait to be saved.
}
app-untaken = Entries that are not taken
app-untaken-saved = Saved, except what is not taken
app-untaken-without = Every answer still goes by what stood there before.
app-untaken-back = Take it back
app-untaken-why = { $found } is not taken, and what stood here before still holds. Allowed: { $allowed }. { $mend }
app-untaken-bounds = { $low } to { $high }
app-stopped = The planner stopped and is being started again.
app-working = Being worked out:
app-enough = Enough for now
app-stopped-rest = Check the rest
app-stopped-rest-not = You stopped here: the rest is not checked, neither strength, circuits and dust nor what would help.
app-given_up = The planner ended { $count } times in a row over this shop and is not started again by itself. What you entered is saved. Undo the last change, or change what may have upset it; each change starts it again.
app-given_up-again = Try once more

## Places.

app-place-start = Start
app-place-shop = Shop
app-place-air = Air
app-place-hookups = Hookups
app-place-cart = Cart
app-place-cutting = Cutting
app-place-breathing = Breathing
app-place-compare = Compare
app-place-paper = On paper

## To do.

app-todo = To do
app-todo-nothing = Nothing that must be done first.
app-todo-more = and { $count } more
app-todo-show = Show me: { $what }
app-todo-measure = Worth measuring next
app-fix-change = { $field } to “{ $to }”
app-fix-passes = Set { $changes }: tried, it passes.
app-fix-builds = Set { $changes }: tried, a cart can then be built.
app-fix-helps = Set { $changes }: tried, it helps but is not enough alone.
app-fault-take_away = Take away { $fields }
app-fix-cost = about { $price } more

## Shop.

app-shop-answer = { $assumed ->
    [0] Every field is known.
    [one] One field is assumed, not measured: it stands dashed. Measure it, and the answers get narrower.
   *[other] { $assumed } fields are assumed, not measured: they stand dashed. Measure one, and the answers get narrower.
}
app-shop-unread = The file cannot be read yet; the fields that are marked say why.
app-shop-none = None yet.
app-floor = The floor
app-floor-how = Drag a tool to where it stands, or move it with the arrow keys.
app-floor-room = The room is { $length } by { $width }. Circles are outlets.
app-floor-waiting = Not on the map yet:

## The answers of the places.

app-air-answer = { $caught ->
    [0] None of { $tools } tools gets enough air for its dust to be caught.
    [one] At one tool of { $tools } the dust is caught: { $which }.
   *[other] At { $caught } tools of { $tools } the dust is caught: { $which }.
}
app-hookups-answer = { $reached ->
    [0] None of { $tools } tools can be joined to a hose yet.
   *[other] { $reached } of { $tools } tools can be joined to a hose.
}
app-hookups-doubtful = Whether the parts fit is not sure at: { $tools }. Measure both ends before you buy or print.
app-cart-none = No cart can be built with these wishes; the checks below say which.
app-checks = What was checked
app-checks-how = Open a line to see how sure it is, what would settle it, and where its numbers come from.
app-checks-measure = To measure:
app-model = The cart, to be turned about
app-model-apart = Pulled apart
app-model-step = Built up to step

## On paper.

app-paper-files = Take along
app-paper-pages = As it prints
app-paper-pages-how = Touch a page to see it by itself.
app-paper-pages-wait = The pages are being set …
app-paper-pages-anew = These are from before the last change: make them anew
app-paper-what = what
app-paper-page = Page { $number } of { $count }
app-paper-failed = The pages could not be made; try once more.
app-paper-plan_pdf = The plan, as PDF
app-paper-plan_pdf-about = All pages, to print or to read.
app-paper-everything_zip = Everything, as a zip
app-paper-everything_zip-about = Pages, drawings, tables, and solids and outlines for machines.
app-paper-shop_toml = Your shop file
app-paper-shop_toml-about = All that you entered, as one file that you own.

## The guided start.

app-start-answer = Three questions, five minutes. Leave out what you do not know: it is assumed, and marked so.
app-start-vacuum = The vacuum
app-start-unknown = Figures from its label will do to begin with; a home test makes them sure.
app-start-bucket = The bucket under the cyclone
app-start-tools = The tools
app-start-tools-how = Touch each tool that you have; its port can be measured later, under Shop.
app-start-done = To the first answer

## Two changes of one field.

app-clash = { $field } was changed elsewhere meanwhile.
app-clash-yours = Keep mine: { $value }
app-clash-theirs = Take the other: { $value }
app-refused = This cannot be understood, and is not saved.

## Changes from outside, a file dropped on the page.

app-outside-merged = The file was changed elsewhere; the changes are taken over.
app-outside-unread = The file was changed elsewhere and cannot be read, { $line ->
        [0] { "" }
       *[other] line { $line }:{ " " }
    }{ $found }. Until it is mended, the last one is shown.
app-bring-large = The file is too large for a shop file; nothing was changed.
app-bring-unread = Nothing was changed: this is no shop file that can be read, { $line ->
        [0] { "" }
       *[other] line { $line }:{ " " }
    }{ $found }.
app-bring-meanwhile = Nothing was changed: the shop was being changed in the same moment. Bring the file once more.
app-bring-unsaved = Nothing was changed: { $why }.
app-bring-failed = The file could not be brought: nothing answers, or it is too large. Try once more.
app-bring-taken = The file is taken over. Undo brings back what was there.
app-unsaved = Not saved yet: { $why }. What you change is kept, and is saved as soon as that is mended.

## Two plans side by side.

app-compare-answer = { $count ->
    [0] Both plans give the same answers.
    [one] One answer is another.
   *[other] { $count } answers are others.
}
app-compare-none = Nothing is kept aside. Keep this plan, change what you like, and see both side by side.
app-compare-gone = The plan kept aside cannot be made any more.
app-compare-keep = Keep this plan aside
app-compare-keep_instead = Keep this one aside instead
app-compare-go_back = Go back to the one kept aside
app-compare-forget = Forget the one kept aside
app-compare-aside = kept aside
app-compare-now = as it is now
app-compare-all = Everything, also what is the same
app-older = What is shown here is of the last file that could be planned; it does not have what is marked as faulty.
app-compare-link = hose from separator to vacuum
app-compare-panel = { $length } × { $width }
app-group-checks = Checks
app-group-breathing = Breathing
app-group-dust = Dust caught
app-group-air = Air
app-group-hookups = Hookups
app-group-cart = Cart
app-group-sheets = Sheets
app-group-money = Money
app-group-steady = How it stands

## The switch of units, the cuts played, a file to begin with.

app-units-in = inches
app-units-mm = millimetres
app-units-both = both
app-play = The cuts, one after another
app-play-at = Cuts made
app-play-back = Back
app-play-next = Next cut
app-play-go = Play
app-play-stop = Stop
app-play-none = The sheets as they come from the store.
app-begin = Another shop
app-begin-nothing = Begin with an empty shop
app-begin-example = Look at a worked example
app-begin-file = Open a shop file …
app-begin-sure = All that is here is replaced; undo brings it back. Touch again.
app-begin-drop = Or drop a shop file anywhere on the page.

## Tools by their names in the trade.

app-tool = Or type what it is called
app-tool-add = Add it
app-tool-unknown = What does “{ $name }” have for its dust? Touch the nearest of these; its name can be changed then.
app-tool-taken = “{ $name }” is added with { $hood }; if it has another, set its hood under Shop.
app-tool-random-orbit-sander = random-orbit sander
app-tool-belt-sander = belt sander
app-tool-disc-sander = disc sander
app-tool-table-saw = table saw
app-tool-saw-guard = table saw, at its guard
app-tool-track-saw = track saw
app-tool-mitre-saw = mitre saw
app-tool-band-saw = band saw
app-tool-router-table = router table
app-tool-router = hand router
app-tool-planer = planer
app-tool-jointer = jointer
app-tool-drill-press = drill press
app-tool-lathe = lathe
app-tool-floor-sweep = floor sweep
app-tool-bench-sweep = bench sweep
app-tool-other = another tool

## What is called otherwise on the page than in a file or a terminal.

app-command-test-sheet = The home test, to print
app-command-new = Start
app-command-plan = On paper
app-command-check = To do
app-fault-shop-no_tool-mend = Touch the tools that you have, under Start.
app-fault-shop-tools-empty-mend = Touch the tools that you have, under Start.
app-paper-test_sheet_pdf = The home test, to print
app-paper-test_sheet_pdf-about = Measure your vacuum with drilled plates and a dry gauge.
app-paper-measure_sheet_pdf = Strips and cards that read diameters
app-paper-measure_sheet_pdf-about = True size: print without scaling.

## Breathing.

app-breathing-none = No day of work is told of yet. Tell of one, and see what it does to lungs and ears.
app-breathing-ready = A ready-made day to start from, to be changed under Shop:
