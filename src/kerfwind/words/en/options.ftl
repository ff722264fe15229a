## What a cart can have besides, as it is wished for.
option-handle = handle
option-hose-holder = hose holder
option-switch = switch
option-drawer = drawer
option-shelf = shelf
option-fitting-rack = fitting rack
option-cord-wrap = cord wrap

# Where the picture of a step is drawn from.
options-seen = { $side ->
    [rear] Seen from behind.
   *[right] Seen from the right.
}

# The note at a plate with horns.
options-plate_and_keeper = Two alike; the keeper's holes are drilled where its horns meet it.

## The handle, and a board across its posts.
options-handle-title = Fix the handle
options-handle-fix = Glue and screw both posts to the outer face of the { $host }, then the bar across them with its middle { $middle } above the floor. Round the bar all over: hands close round it.
options-handle-mind = Push the cart, do not lift it by the handle with the vacuum in it.

options-handle_board-title = Fix the handle's board
options-handle_board-fix = Glue and screw the board across both posts: it carries what follows.
options-handle_board-mind = Keep it square to the posts: what hangs on it hangs as it does.

cart-options-handle = height for a standing adult
cart-options-handle-stands = It stands { $middle } above the floor; { $usual } is usual.

cart-options-handle_holds = screws of its posts hold a one-handed push without the glue
    .do = Glue the posts, or bolt them through.
cart-options-handle_holds-good = The posts' screws alone hold a one-handed push.
cart-options-handle_holds-glue = The posts' screws alone do not hold a one-handed push: it leans on its glue.

## The hose holder.
options-hose-title = Make and fix the hose holder
options-hose-fix = Screw the plate to the horns from behind and the keeper to their front ends; then screw the plate to the { $host }. Round over the horns' upper edges.
options-hose-hangs = The { $hose } hangs there in { $turns ->
    [one] { $turns } turn of about { $across }.
   *[other] { $turns } turns of about { $across }.
}
options-hose-coiled = { $hose }, coiled
options-hose-mind = Coil it as it wants to lie; a kink never comes out.

cart-options-hose = hangs in turns wider than where it kinks
    .do = Hang it in fewer, wider turns.
cart-options-hose-good = { $turns ->
    [one] It hangs in { $turns } turn of { $across } across.
   *[other] It hangs in { $turns } turns of { $across } across.
}
cart-options-hose-tight = Turns of { $across } across may kink it.

## The cord wrap.
options-cord-title = Make and fix the cord wrap
options-cord-fix = Screw the plate to the two horns from behind and the keeper to their front ends; then screw the plate to the { $host }.
options-cord-mind = Unplug before you wind it up. Wind it loosely; a cord in use lies unwound, for a wound one gets hot.

cart-options-cord = takes the whole cord
cart-options-cord-good = { $turns ->
    [one] It takes { $cord } of cord in { $turns } turn.
   *[other] It takes { $cord } of cord in { $turns } turns, { $layers } deep.
}
cart-options-cord-assumed = { $turns ->
    [one] It takes { $cord } of cord in { $turns } turn.
   *[other] It takes { $cord } of cord in { $turns } turns, { $layers } deep.
}
    .do = A longer cord needs longer horns: measure yours, extension and all.

## The drawer and its case.
options-drawer-case = Make and fix the drawer's case
options-drawer-case-fix = Screw a runner to each wall, then the inner wall to the { $host } from inside. Set the back between the walls, screw on the outer wall, then the top.
options-drawer-case-mind = Both runners at one height and parallel, or the drawer rocks and binds.

options-drawer-box = Make the drawer
options-drawer-box-make = Screw the sides to the floor and to the back, then the front over their ends. Wax the runners and the undersides of the sides, and slide it in. A turn button of scrap, screwed through a block as thick as the front to the case top's front edge, keeps it from shaking open on the way.
options-drawer-box-mind = Drill pilot holes: these edges are short and split.

options-drawer-pull = The hole is its pull.

## The rack for fittings.
options-rack-title = Make and fix the fitting rack
options-rack-title-one_of = Make and fix board { $number } of { $count } of the fitting rack
options-rack-fix = Screw the plate from behind to the board and to the two brackets under its ends, then the board down to the brackets. Screw the plate to the { $host } from outside.
options-rack-try = Try each fitting in its hole before you fix the board.
options-rack-glue = Glue the dowels into their holes.
options-rack-number = Write each fitting's number beside its place.
options-rack-mind = Bore the holes with the board clamped to scrap; a hole saw that catches throws it.

options-rack-note = Left to right: { $seats }.
options-rack-seat = { $number } { $fitting }
options-rack-home = { $kept-by ->
    [peg] peg { $number } of the rack on the cart
    [hole] hole { $number } of the rack on the cart
   *[place] place { $number } of the rack on the cart
}

options-rack-dowel = dowel of { $diameter }, { $length } long
options-rack-dowel-use = pegs of the fitting rack

## The small shelf.
options-shelf-title = Make and fix the small shelf
options-shelf-fix = Screw the plate from behind to the board and to the two brackets under its ends, then the board down to the brackets, and the lip to its front edge. Screw the plate to the { $host } from outside.
options-shelf-mind = It is for light things: what stands high on a cart helps to tip it.

## The switch: an outlet strip on a plate.
options-switch-title = Fix the switch plate and the outlet strip
options-switch-fix = Screw the plate to the { $host } from outside; then the strip on it by its own slots, over the screws. Tie its cord to the plate through the two small holes, so that a pull on the cord never reaches the strip.
options-switch-mind = Use a listed strip as its maker says, whole and unopened; one strip, straight into the wall, never strip on strip. Anything wired in is a licensed electrician's work, and local codes decide. Lead no cord where the vacuum or the bucket comes out.
options-switch-holes = The two small holes take a tie round the cord.

options-switch-strip = listed outlet strip with switch and breaker, heavy cord, rated for { $rated } or more
options-switch-strip-use = on the switch plate, with a tie for its cord

cart-options-switch = within reach
cart-options-switch-stands = Its middle is { $middle } above the floor; { $reach } is in reach.

## What hangs on the options, at the end.
options-hang-title-hose = Hang up the hose
options-hang-title-both = Put hose and fittings in their places
options-hang-title-fittings = Put the fittings in their places
options-hang-hose = Coil the tool hose and hang it on its horns.
options-hang-fittings = Set every fitting in the place that bears its number.
options-hang-mind = What hangs on one side pulls the cart that way: keep its brakes on while you load it.

## Options that find no room.
cart-refused-options =
    .found = { $told ->
        [reasons] no room for { $options } ({ $reasons })
       *[nothing] no room for { $options }
    }
    .allowed = what finds a free place on the outside, clear of the ways of vacuum and bucket, of the motor's air and of the wheels
    .mend = { $way ->
        [limits] { $count ->
            [one] Leave it out, or allow more by { $limits }.
           *[other] Leave them out, or allow more by { $limits }.
        }
        [handle] { $whole ->
            [all] Wish for a handle too: a board on its posts has room.
           *[some] Wish for a handle too: a board on its posts has room for { $with-handle }. Leave the rest out.
        }
       *[form] { $count ->
            [one] Leave it out, or take another form.
           *[other] Leave them out, or take another form.
        }
    }

options-no_room-no_hose = no tool hose is listed
options-no_room-no_fitting = there is no fitting to keep on it
options-no_room-no_hand = a drawer under { $hand } wide inside takes no hand
