## In the shop: one cut or step a screen.

app-place-bench = In the shop
app-bench-answer = { $done ->
    [0] { $whole } cuts and steps, none done yet.
   *[other] { $done } of { $whole } cuts and steps are done.
}
app-bench-picture = The sheet, with cut { $cut } marked
app-bench-cut = Cut { $cut }
app-bench-step = Step { $step }
app-bench-gives = Gives { $what }.
app-bench-stays = The setting stays as it is.
app-bench-done = Done
app-bench-next = Next
app-bench-back_one = Back
app-bench-short = Came out short
app-bench-short_of = { $panel } came out short
app-bench-which = Panel
app-bench-length = Its length
app-bench-width = Its width
app-bench-what_now = What now?
app-bench-costs = about { $price } more
app-bench-never = It is as it should be
app-bench-not_made = { $panel } is not cut yet: tick its cut first, then measure it.
app-bench-early = Cut { $cut } is ticked, but the piece for it is not cut free yet: it counts as not made.
app-bench-pinned = These are the cuts as they were when the first was made; what was changed since is not in them.
app-bench-again = Laid out again from what was left.
app-bench-back = Take back the last short panel
app-bench-stuck = With a panel as it came out, no cart can be built.
app-bench-anew = Begin cutting anew
app-bench-sure = All ticks go. Touch again to begin anew.
app-bench-awake = This browser cannot keep the screen awake: set the phone itself to stay on.
app-bench-late = That cut was of a layout that has been left: it is not ticked. Look at the new one.
app-bench-large = { $panel } is larger than planned: cut it to its size, then it is as it should be.
app-phone = On your phone
app-phone-let = Let a phone in
app-phone-why = At the saw a phone shows one cut or step at a time. Nothing is open to the network until you let one in.
app-phone-not_in = This phone is not let in, or no longer. On the computer, under “{ $place }”, touch “{ $let }” and scan the code that comes.
app-phone-too_often = Too many wrong codes were tried. Wait a minute, then scan the code on the computer once more.
app-phone-out = Let none in any more
app-phone-none = This computer is on no local network, so no phone can reach it.
app-phone-how = Scan this with a phone in the same network, or go there to { $address } — whoever has it can change the plan. What goes between them is not encrypted: use it in a network of your own only, and show the code to nobody else. It ends with the page, or when you let none in any more; a new one is made each time.
app-bench-no_way = No sheet holds it once more, and no cart can be built with it as it is: a wider or longer piece is needed.
app-bench-before = Bring back what was ticked before
app-bench-sure_back = What was cut since goes too. Touch again to take it back.
app-bench-size =
    .found = not the size of a panel
    .allowed = more than nothing, less than { $most }
    .mend = Measure the panel once more, and give its unit; no panel is { $most } long.
