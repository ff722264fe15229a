## The report of a plan.

terminal-plan-long = { $tools } tools to plan: this takes up to about { $minutes } minutes.
terminal-column-from_port_to_hose = from port to hose
terminal-fixed = fixed, with the gates as they stand
terminal-do = Do: { $do }
terminal-tried = Tried: { $tried }
terminal-measure = Measure: { $places }
terminal-about = { $about }:
terminal-other_checks = { $count ->
    [one] { $count } other check
   *[other] { $count } other checks
}
terminal-after_building = After building: { $answer }
terminal-cart-size = { $size } long, wide, high; form { $form }.
terminal-sheets-count = { $sheets }.
terminal-bill = To buy: { $bill }.
terminal-assumed-count = { $count ->
    [one] { $count } value is assumed.
   *[other] { $count } values are assumed.
}
terminal-results = Results in { $folder }: { $files }
terminal-all_findings = Every finding: kerfwind check { $file }
terminal-folder = { $count ->
    [one] { $folder } ({ $count } file)
   *[other] { $folder } ({ $count } files)
}
terminal-lacking = The PDF shows empty boxes for these characters: { $characters }. No typeface of this computer has them: install one that has, or write those names in other letters.
terminal-lacking-more = { $characters } …

## Carts that a search chose.

terminal-sizes-column-best_at = best at
terminal-sizes-column-form = form
terminal-sizes-column-size = long, wide, high
terminal-sizes-column-overturns = overturns beyond
terminal-sizes-column-ballast = ballast
terminal-sizes-column-fails = does not pass
terminal-sizes-column-sheets = sheets
terminal-sizes-none_failed = -
terminal-sizes-none = No cart can be built within these wishes. What stands against each form:
tips-tilt = slope
tips-handle = push at the handle
tips-stumble = stopped dead at a walk
tips-tug = tug on the hose
tips-blocked = blocked hose
terminal-sizes-in_between = in between
terminal-sizes-write = To plan one, write its lines under [wishes] in the shop file, in place of those there:
terminal-sizes-counts = { $stopped ->
    [yes] { $laid-out } carts laid out, { $nested } nested, { $refused } could not be built; stopped early
   *[no] { $laid-out } carts laid out, { $nested } nested, { $refused } could not be built
}
terminal-sizes-progress = { $done } of { $every } carts

## One cart for a table of vacuums and buckets.

terminal-table-none = No cart of any form carries any of them within the wishes. What stands against the wished one:
terminal-table-unmet = { $place }: { $found }; allowed: { $allowed }. { $mend }
terminal-table-one = { $sure ->
    [yes] One `{ $form }` for { $things }: { $size }, { $cost } of sheets.
   *[no] One `{ $form }` for { $things }: { $size }, { $cost } of sheets; the search ended early, so more could be possible.
}
terminal-table-vacuums = { $count ->
    [one] { $count } vacuum
   *[other] { $count } vacuums
}
terminal-table-buckets = { $count ->
    [one] { $count } bucket
   *[other] { $count } buckets
}
terminal-table-carries-vacuums = Carries these vacuums: { $names }
terminal-table-carries-buckets = Carries these buckets: { $names }
terminal-table-not_carried = Does not carry:
terminal-table-column-name = name
terminal-table-column-what = what keeps it out
terminal-table-column-is = it is
terminal-table-column-takes = the cart takes
terminal-table-column-beyond = beyond by
terminal-table-up_to = up to { $limit }
terminal-table-at_least = at least { $limit }
terminal-table-write = To plan it, write in a copy of the shop file:
terminal-table-largest = The vacuum's sizes are the largest, its weight the least: so it tips soonest.
terminal-table-take_out = { $round ->
    [yes] Take the diameters of the bucket out of that file.
   *[no] Take the widths and lengths of the bucket out of that file.
}
terminal-table-own_plan = Each vacuum's own hose and air still want a plan of their own.
terminal-table-progress = { $count ->
    [one] { $count } cart laid out
   *[other] { $count } carts laid out
}

## Whether the cart of a published plan fits another vacuum and bucket.

terminal-fits-yes = Yes: this cart carries them as it is. Check the hose and the air anew.
terminal-fits-no = Not as it is:
terminal-fits-none = No cart of this form carries them within the plan's wishes:
terminal-fits-nothing = No panel changes its size: what keeps them out is how the cart stands with them.
terminal-fits-changed = With these panels changed it does:
terminal-fits-panel = { $panel }, { $side ->
    [length] length
    [width] width
   *[opening] opening
}: { $known ->
    [gone] left out, { $was } in the plan
    [new] { $now }, not in the plan
   *[both] { $now } in place of { $was }, { $by } { $way ->
        [more] more
       *[less] less
    }
}
terminal-fits-own_plan = Write your sizes into a copy of the plan's shop file and plan it, for the cuts, steps and checks.

## The numbers from outside.

terminal-sources-column-key = key
terminal-sources-column-what = what
terminal-sources-column-value = value
terminal-sources-column-from = from
terminal-sources-column-standing = standing
terminal-sources-value = { $value } { $unit }
terminal-sources-value_from_to = { $value } ({ $low } to { $high }) { $unit }
terminal-sources-where = { $citation }, { $where }
terminal-sources-none = No number has `{ $word }` in its key or text. Try less of the word.

## What the commands say.

terminal-reading = reading
terminal-new-exists = { $file } exists already and was left alone. Choose another name.
terminal-new-no_folder = { $folder }: no such folder. Make it first, or choose another place.
terminal-new-wrote = Wrote { $file }. Fill in what you know, then: kerfwind plan { $file }
terminal-test_sheet-wrote = Wrote { $file }. Print it at any size; the table is filled in by hand.
terminal-measure_sheet-wrote = Wrote { $file }, for { $page } paper (`--page { $other }` for the other). Print it at 100 %, and check the ruler first.

## The page in the browser.

terminal-open = The page is at { $address } — end it here with Ctrl-C.
terminal-open-phone = On a phone in the same network, scan this, or go to { $address } — whoever has it can change the plan. What goes between them is not encrypted: use it in a network of your own only. A new code is made at every start.
terminal-open-already = The page of this file is open already, at { $address } — a phone is let in there, under *In the shop*.
terminal-shortcut = A starter is at { $place } — a double click opens the page. Some desktops ask first whether it may be started.
terminal-open-no_network = This computer is on no local network, so no phone can reach it.
