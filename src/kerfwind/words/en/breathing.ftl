## What a day's work means for lungs, ears, bucket and filter.

-no-safe-line = Below a limit is not safe: hardwood dust causes cancer, and no dose is known to be harmless.
-model = This is a model, no measurement.
-weigh = Weigh the bucket and the floor sweepings after this session and write both into the file: it narrows every one of these ranges.

breathing-work = work
breathing-room = room

breathing-sessions = what the work means for lungs and ears
breathing-sessions-none = No session of work is listed, so nothing is said of the dust you breathe, of noise, of when to empty: nothing here means that the air is safe.
    .do = List what you do on a day under [[sessions]], or start from a ready-made one: `ready = "shelves"`.

breathing-day = the day's dust against { $limit }
    .do = Keep the mask on, and change what helps most first. { -no-safe-line }
breathing-day-over = Over the day, the rest of it in clean air, the dust round you averages { $had }: over { $limit }, { $most }.
breathing-day-open = Over the day, the rest of it in clean air, the dust round you averages { $had }: whether that is over { $limit }, { $most }, or under it, is not settled by what is known.
breathing-day-good = Over the day, the rest of it in clean air, the dust round you averages { $had }, under { $limit }, { $most }
breathing-day-under = Over the day, the rest of it in clean air, the dust round you averages { $had }: under { $limit }, { $most }. { -no-safe-line } { -model }
    .do = Keep the mask on while dust is in the air.

breathing-session = the session's mean against { $limit }
    .do = It counts for how the air is while you work; the limit itself is of a whole day. Wear the mask.
breathing-session-over = While you work and stay, the dust round you averages { $had }: worked so all day it would be over { $limit }, { $most }.
breathing-session-open = While you work and stay, the dust round you averages { $had }; worked so all day, whether it would be over { $limit }, { $most }, or under it, is not settled by what is known.
breathing-session-good = While you work and stay, the dust round you averages { $had }; worked so all day it would be under { $limit }, { $most }
breathing-session-under = While you work and stay, the dust round you averages { $had }: worked so all day it would be under { $limit }, { $most }. { -no-safe-line }

breathing-task = the dustiest operation against { $limit }
    .do = Start with this operation: more air at its hood, another tool, or less of it.
breathing-task-over = The dustiest is operation { $number }, { $operation }: { $had } round you while it lasts; worked so all day it would be over { $limit }, { $most }.
breathing-task-open = The dustiest is operation { $number }, { $operation }: { $had } round you while it lasts; worked so all day, whether it would be over { $limit }, { $most }, or under it, is not settled by what is known.
breathing-task-good = The dustiest is operation { $number }, { $operation }: { $had } round you while it lasts; worked so all day it would be under { $limit }, { $most }
breathing-task-under = The dustiest is operation { $number }, { $operation }: { $had } round you while it lasts; worked so all day it would be under { $limit }, { $most }. { -no-safe-line }

breathing-dust = where the dust goes
    .do = { -weigh }
breathing-dust-estimated = The work makes { $made } of dust and chips. The hoods catch { $caught } of it; { $past } go past them. { $separator ->
    [yes] { $bucket } end in the bucket, { $vacuum } in the vacuum,
   *[no] { $vacuum } end in the vacuum,
} { $floor } on floor and bench, { $broom ->
    [yes] { $swept } are swept up, and
   *[no] and
} a nose without a mask takes in { $breathed }. How much is made and how fine it is was never published for small tools: the ranges are wide. { $separator ->
    [yes] What such a cyclone keeps is known by a relation to a factor of two, one that lets nothing be thrown out again.
   *[no] { "" }
}
breathing-dust-weighed = By what was weighed, the work makes { $made } of dust and chips. The hoods catch { $caught } of it; { $past } go past them. { $separator ->
    [yes] { $bucket } end in the bucket, { $vacuum } in the vacuum,
   *[no] { $vacuum } end in the vacuum,
} { $floor } on floor and bench, { $broom ->
    [yes] { $swept } are swept up, and
   *[no] and
} a nose without a mask takes in { $breathed }.
breathing-dust-apart = What was weighed does not fit what was predicted: { $made } made, { $bucket } in the bucket, { $floor } on floor and bench. Nothing was bent to fit it.
    .do = Check that the bucket was empty before, that only this session's dust was weighed, and the minutes and sizes of each operation.

breathing-dust-none = Nothing that is listed makes dust, and how much lay there before is not known: nothing here means that the air is safe.
    .do = List what made the dust, with its minutes, before the sweeping.

breathing-wood = the wood
    .do = Keep its dust off skin and out of the lungs: mask, suction, and wash. Cough, tight chest, running nose or rash after work: see a doctor and take the name of the wood along.
breathing-wood-unknown = { $wood } is no wood known here: its dust is taken as hardwood of any density, which may sensitise.
    .do = Write a wood that is known here, or look up what the dust of yours does before you work it.
breathing-wood-sensitises = { $kind ->
    [softwood] { $wood }: its dust makes some people ill for good, with asthma or rash, at doses that others do not feel; once sensitised, the least brings it back.
    [board] { $wood }: dust of wood and resin; it counts as hardwood dust, which causes cancer of the nose.
   *[hardwood] { $wood }: hardwood dust causes cancer of the nose, and that of this wood makes some people ill for good, with asthma or rash; once sensitised, the least brings it back.
}
breathing-wood-known = { $kind ->
    [softwood] { $wood }: softwood dust irritates and can bring asthma; that it does not cause cancer is not shown.
    [board] { $wood }: dust of wood and resin; it counts as hardwood dust, which causes cancer of the nose.
   *[hardwood] { $wood }: hardwood dust causes cancer of the nose.
}

breathing-mask = the mask for the worst hour
    .do = Wear one that fits, shaved, tested on your face, from before the first cut until the dust has gone. { -model }
breathing-mask-none = No mask is worn. To bring the worst hour under { $limit } the mask must count for { $low } to { $high }. HSE in the UK asks for { $least } at least at sanding, portable tools and emptying.
breathing-mask-beard = A { $mask } over stubble or a beard leaks at its seal: it is counted for nothing. The worst hour asks for { $low } to { $high }.
    .do = Shave, or wear a loose hood with a blower, which does not seal on the face.
breathing-mask-untested = Without a fit test a { $mask } counts for { $counts } ({ $rules }). The worst hour asks for { $low } to { $high }.
    .do = Have the fit tested on your face; without it nobody can say what it keeps out.
breathing-mask-which = { $rules } rules know no factor for a { $mask } without its class. The worst hour asks for { $low } to { $high }.
    .do = Read the class on the mask: FFP2 or FFP3.
breathing-mask-other_rules = { $rules } rules know no factor for a { $mask }, and factors of other countries are not put in its place. The worst hour asks for { $low } to { $high }.
    .do = Wear one with a factor under your own rules.
breathing-mask-least = A { $mask } counts for { $counts } ({ $rules }); HSE in the UK asks for { $least } at least at sanding, portable tools and emptying. The worst hour asks for { $low } to { $high }.
breathing-mask-covers = A { $mask } counts for { $counts } ({ $rules }), and the worst hour asks for { $low } to { $high }. That is on paper: a mask that slips protects from nothing.
breathing-mask-short = A { $mask } counts for { $counts } ({ $rules }); the worst hour asks for { $low } to { $high }.
    .do = Wear one that counts for more, or change what helps most first.

breathing-mask_on = how long to keep the mask on
    .do = Keep it on for the longer of these after the last cut, for emptying and for sweeping too, and keep others out of the room so long.
breathing-mask_on-so_long = After the last cut it takes { $low } to { $high } until the dust is down to { $part } of { $limit }.
breathing-mask_on-longer = After the last cut it takes from { $low } to more than { $high } until the dust is down to { $part } of { $limit }: leave the room to itself, door open, and come back another day.

breathing-noise = the session's noise
    .do = Wear ear protectors from the first cut, and read the level at your ear with a meter or a phone. Farther from the vacuum, or behind a baffle that leaves its air free, it is quieter; never shut it in a closed box.
breathing-noise-good = { $protected ->
    [yes] Under the protectors the day's level is { $under }; without them it would be { $day }: { $niosh } of a full day's dose by NIOSH, { $osha } by OSHA. Twice the distance to the vacuum takes off { $farther }, a baffle { $baffle }
   *[no] The session's level over a day is { $day }: { $niosh } of a full day's dose by NIOSH, { $osha } by OSHA. Twice the distance to the vacuum takes off { $farther }, a baffle { $baffle }
}
breathing-noise-unread = { $protected ->
    [yes] By levels usual for such machines, which nobody read here: under the protectors the day's level is { $under }; without them it would be { $day }: { $niosh } of a full day's dose by NIOSH, { $osha } by OSHA. Twice the distance to the vacuum takes off { $farther }, a baffle { $baffle }.
   *[no] By levels usual for such machines, which nobody read here: the session's level over a day is { $day }: { $niosh } of a full day's dose by NIOSH, { $osha } by OSHA. Twice the distance to the vacuum takes off { $farther }, a baffle { $baffle }.
}
breathing-noise-over = { $protected ->
    [yes] Even under the protectors, derated as NIOSH does, the day's level is { $under }: over the recommended dose. Without them it is { $day }, { $niosh } of a full day's dose by NIOSH, { $osha } by OSHA. Twice the distance to the vacuum takes off { $farther }, a baffle { $baffle }.
   *[no] Without protectors of a known rating the session's level over a day is { $day }: { $niosh } of a full day's dose by NIOSH, { $osha } by OSHA. Twice the distance to the vacuum takes off { $farther }, a baffle { $baffle }.
}
breathing-noise-over_day = { $protected ->
    [yes] Even under the protectors the day's level is { $under }, over the lower action value of 80 dB(A). Without them it is { $day }. Twice the distance to the vacuum takes off { $farther }, a baffle { $baffle }.
   *[no] Without protectors of a known rating the session's level over a day is { $day }; action begins at 80 dB(A), protectors are a must from 85. Twice the distance to the vacuum takes off { $farther }, a baffle { $baffle }.
}

breathing-unreached = suction in the session
breathing-unreached-nothing_caught = It is used in a session, but no hose reaches it: all its dust goes past.
    .do = Join it to the unit, or count on a mask and an open door.

breathing-sweeping = sweeping
breathing-sweeping-broom = A broom throws up fine dust that lay, { $part } of it by judgement, for no figure was published: { $had } round you while you sweep. Dust from days before comes on top.
    .do = Take it up with the vacuum rather than a broom, or damp it first; mask on, door open.
breathing-sweeping-nozzle = Of the fine dust that the nozzle stirs and does not take, { $part } is counted as thrown up, by judgement, for no figure was published: { $had } round you while you vacuum the floor. Dust from days before comes on top.
    .do = Keep the mask on for it, and the door open.

breathing-long = the length of the session
breathing-long-beyond_a_day = The session lasts { $time }: no limit is made for a day longer than a day.
    .do = Split it into sessions of one day each.

breathing-helps = what lowers the dust most
breathing-helps-most = Each alone: { $changes }.
    .do = Do the first of these first. A mask comes last: it protects one person, and only while it fits.
breathing-effect-on_day = { $what }: { $part } less over the day
breathing-effect-hookup = as much air at each hood as it needs, and a quarter more
breathing-effect-door = the garage door open
breathing-effect-cleaner = an air cleaner of { $airflow }
breathing-effect-outdoors = the bucket emptied outdoors
breathing-effect-vacuumed = the floor taken up with the vacuum's nozzle in place of a broom
breathing-effect-coarser = sanding with { NUMBER($grit, useGrouping: 0) } grit for as long as takes the same wood off
breathing-effect-filter = a filter of class M in the vacuum

breathing-bucket = how often to empty the bucket
breathing-bucket-fills = Each such session leaves { $fill } of a bucket of loose dust: after { $low } to { $high } of them the separator begins to pass chips. Full it weighs { $full }; one person may lift { $lift } off the cart.
    .do = Look at the level before each session, and empty it at half: a full bucket sends the chips on to the filter.
breathing-bucket-heavy = Each such session leaves { $fill } of a bucket of loose dust: after { $low } to { $high } of them the separator begins to pass chips. Full it weighs { $full }, more than the { $lift } that one person may lift off the cart.
    .do = Empty it at half, or lift it with two: a full bucket sends the chips on to the filter, and hurts a back.

breathing-fire = fire and explosion
    .do = Nothing that glows into the hose; no oily rags into the bucket; empty both outdoors when the day ends, away from flames and switches, and wet the fine dust down.
breathing-fire-vacuum = A separator parts the fine dust from the chips: { $vacuum } of what reaches the vacuum is under { $size }, { $bucket } of what is in the bucket. From { $least } on, fine dust is taken as explosible when it is thrown up.
breathing-fire-together = Fine dust is taken as explosible from { $least } under { $size }: { $vacuum } of what reaches the vacuum is so fine.
breathing-fire-both = Fine dust is taken as explosible from { $least } under { $size }: { $vacuum } of what reaches the vacuum is so fine, and { $bucket } of what is in the bucket.

breathing-stale = fresh air in the room
    .do = Open a door or a window while you work and after.
breathing-stale-none = No fresh air comes into the room at all: what floats stays until it has settled, and settles again from every draught.
breathing-stale-little = Next to no fresh air comes into the room: what floats stays for hours.

breathing-filter_class = what the vacuum's filter lets back
breathing-filter_class-none = It has no filter: all that passes the separator is blown back into the room, and the finest most of all.
    .do = Never run it without one.
breathing-filter_class-unknown = Nothing is known of its filter's class: it may let a seventh of the finest dust back into the room, or a thousandth.
    .do = Look for L, M or H on the machine, and at the seal for grey tracks. Rules for dust that harms ask for class M.
breathing-filter_class-known = By its class it lets { $passes } of the test dust pass at most; what leaks past its seal, { $seal } perhaps, is no matter of the class.
    .do = Look at the seal for grey tracks whenever you clean it.

breathing-cooling = the vacuum's own cooling
breathing-cooling-needs_air = Its motor turns { $watts } to heat. To carry that off no more than { $warmer } K warmer takes { $air } of fresh air; a closed box round it gives none, and cooks it.
    .do = Leave its air openings free, and silence it with distance or a baffle.

breathing-loading = the filter as it loads
    .do = Clean the filter outdoors, mask on, before it has lost so much, and look at the bucket before each session.
breathing-loading-slow = After { $low } to { $high } such sessions the cake on the filter takes a tenth of the airflow at the { $tool }. If one session's chips all went past a full bucket onto the filter, { $full } of the airflow would be left.
breathing-loading-open = It takes { $low } such sessions at the least, and may take many more, until the cake on the filter takes a tenth of the airflow at the { $tool }. If one session's chips all went past a full bucket onto the filter, { $full } of the airflow would be left.
breathing-loading-never = In { $most } such sessions the cake on the filter takes less than a tenth of the airflow at the { $tool }. If one session's chips all went past a full bucket onto the filter, { $full } of the airflow would be left.

breathing-loading-bare_slow = Without a separator all goes onto the filter: after { $low } to { $high } such sessions its cake takes a tenth of the airflow at the { $tool }.
breathing-loading-bare_open = Without a separator all goes onto the filter: it takes { $low } such sessions at the least, and may take many more, until its cake takes a tenth of the airflow at the { $tool }.
breathing-loading-bare_never = Without a separator all goes onto the filter; in { $most } such sessions its cake takes less than a tenth of the airflow at the { $tool }.

## Limits, by whose they are.

limit-us-osha_total = the OSHA limit of total dust
limit-us-osha_respirable = the OSHA limit of respirable dust
limit-us-niosh_total = the NIOSH recommended limit of total dust
limit-us-acgih_inhalable = the ACGIH guide value of inhalable dust
limit-us-acgih_cedar = the ACGIH guide value of red cedar dust
limit-uk-hardwood = the UK limit of hardwood dust
limit-uk-softwood = the UK limit of softwood dust
limit-uk-respirable = the UK limit of respirable dust
limit-eu-hardwood = the EU limit of hardwood dust
limit-germany-inhalable = the German limit of wood dust

rules-us = US
rules-uk = UK
rules-eu = EU
rules-germany = German

mask-none = no mask
mask-disposable = disposable mask
mask-FFP2 = mask of class FFP2
mask-FFP3 = mask of class FFP3
mask-half-mask = half mask
mask-full-face = full-face mask
mask-powered-hood = hood with a blower

## The page of a session, for everyone in the house.

view-session = A day’s work: { $session }
view-session-dust = The tools make { $made } of dust and chips. The hoods take { $caught } of it; { $past } go past them and lie about, or float.
view-session-air = { $way ->
    [over] While the work goes on, the air round the worker holds { $had } of the dust that a nose takes in: more, most likely, than { $limit }, { $most }, which is meant for a whole day.
   *[under] While the work goes on, the air round the worker holds { $had } of the dust that a nose takes in; { $limit } for a whole day is { $most }. Below it is not safe: hardwood dust causes cancer.
}
view-session-mask_on = Wear a mask from the first cut, and keep it on for { $time } after the last. Children and all others stay out so long.
view-session-noise = Spread over a day the noise at the ear is { $day }: wear ear protectors from 80 dB(A) on.
view-session-bucket = Empty the bucket at half, outdoors, with the mask on; after { $sessions } such days it passes chips on.
view-session-by_hand = No suction is at work in it: all of this dust goes into the room.
view-session-total = What a sampler takes as total dust is assumed to be { $part } of what a nose takes in. All of this is a model with wide ranges, and no measurement.
view-session-task = { $tool }: { $operation }, { $wood }
view-session-sweeping = { $tool }: { $operation }
view-session-hand = by hand
view-session-more_than = more than { $time }
view-limit-over = over
view-limit-open = not settled
view-limit-under = under, not safe

went-bucket = bucket
went-vacuum = vacuum
went-floor = floor and bench
went-swept = swept up
went-out = out of the room
went-airborne = still floating
went-breathed = nose or mask

## Woods of ready-made sessions.

wood-walnut-plywood = walnut plywood
wood-oak = oak
wood-maple = maple
wood-pine = pine
wood-wood = wood
