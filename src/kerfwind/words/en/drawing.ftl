## Below a drawing.

drawing-scale-stated = Scale { $scale }
drawing-scale-free = Not to scale
drawing-sizes_in = sizes in { $units ->
    [in] inches
    [mm] mm
   *[both] inches (mm)
}

## The vacuum against the way the air takes, and where the suction goes.

drawing-suction = Suction and airflow
drawing-axis-airflow = Airflow, { $unit }
drawing-axis-suction = Suction, { $unit }
drawing-suction-vacuum = suction curve
drawing-suction-met = { $tool }, { $airflow }
drawing-suction-band = grey band: nine curves in ten
drawing-path = Where the suction goes
drawing-path-share = share
drawing-path-share_of = { $percent }%
drawing-path-band = nine in ten
drawing-path-vacuum = what the vacuum makes

## A chain of fittings.

drawing-chain = From the port to the hose
drawing-chain-to_get = to get
drawing-chain-outside = Ø { $size } outside
drawing-chain-into = into Ø { $size }
drawing-chain-inside = Ø { $size } inside
drawing-chain-over = over Ø { $size }

## A printed reducer.

drawing-reducer-inside = Ø { $size } inside
drawing-reducer-outside = Ø { $size } outside
drawing-reducer-goes_over = goes over { $end }
drawing-reducer-goes_into = goes into { $end }

## The room from above.

drawing-room = Where to park with { $hoses }
drawing-room-owned = { $length } of { $hose }
drawing-room-new = { $length } of { $hose } (new)
drawing-room-letters = tools by their letters
drawing-room-no_circles = circles of reach left out: too many to tell apart

## The unit and its parts.

drawing-unit = The unit
drawing-unit-three_sides = The unit from three sides
drawing-unit-front = Front
drawing-unit-side = Right side
drawing-unit-above = From above
drawing-apart = The parts, pulled apart
drawing-board = { $board }, pulled apart

## Where to measure an end.

drawing-end = Where to measure an end
drawing-end-outside = outside, at the mouth
drawing-end-inside = inside, at the mouth
drawing-end-taper = outside, 20 mm in
drawing-end-mouth = mouth

## One panel to be made.

drawing-panel-make = { $panel }
    make { NUMBER($count, useGrouping: 0) } · { $thickness } thick
drawing-panel-notch = notch { $length } × { $width }
drawing-panel-through = through
drawing-panel-opening = { $length } × { $width }, through
drawing-panel-opening_round = { $length } × { $width }, corners R { $radius }, through
drawing-panel-edges = { $count ->
    [one] heavy edge: round over or band
   *[other] heavy edges: round over or band
}
drawing-panel-grain = arrow shows the grain
drawing-panel-pocket = pocket, { $angle }°, { $face }
drawing-panel-groove = { $cut ->
    [dado] dado { $width } × { $depth } deep
    [rebate] rebate { $width } × { $depth } deep
   *[groove] groove { $width } × { $depth } deep
}
    { $face }

panel-face-behind = { $face }, behind
panel-face-outer-face = outer face
panel-face-inner-face = inner face
panel-face-face-away-from-the-bucket = face away from the bucket
panel-face-face-to-the-bucket = face to the bucket
panel-face-front-face = front face
panel-face-rear-face = rear face
panel-face-underside = underside
panel-face-upper-face = upper face

## One step.

drawing-step = Step { NUMBER($number, useGrouping: 0) }: { $title }
drawing-step-screws = { $count ->
    [one] { $count } screw, { $length }
   *[other] { $count } screws, { $length }
}
drawing-step-screws_each = { $count ->
    [one] { $count } screw each, { $length }
   *[other] { $count } screws each, { $length }
}

## A session of work.

drawing-air = Dust in the air against time
drawing-air-clear = a tenth of it
drawing-air-mask = mask on
drawing-axis-minutes = Minutes from the beginning
drawing-axis-dust = mg/m³ of inhalable dust round you
drawing-axis-sessions = Sessions since it was emptied
drawing-axis-bucket = Level in the bucket
drawing-axis-dose = Part of a whole day's dose
drawing-flow = Where the dust goes
drawing-flow-made = made
drawing-flow-hoods = into the hoods
drawing-flow-past = past the hoods
drawing-bucket = Level in the bucket
drawing-bucket-passes = passes chips
drawing-dose = The day's dose
drawing-dose-dust = dust
drawing-dose-noise = noise
