## Panels, by what they are called in the cart.
panel-bottom = bottom
panel-shelf = shelf
panel-lipping = lipping
panel-front-lipping = front lipping
panel-rear-lipping = rear lipping
panel-left-lipping = left lipping
panel-right-lipping = right lipping

panel-front-left-block = front left block
panel-front-right-block = front right block
panel-rear-left-block = rear left block
panel-rear-right-block = rear right block
panel-front-outrigger = front outrigger
panel-rear-outrigger = rear outrigger
panel-left-tray-side = left tray side
panel-right-tray-side = right tray side
panel-front-tray-end = front tray end
panel-rear-tray-end = rear tray end
panel-left-tray-cleat = left tray cleat
panel-right-tray-cleat = right tray cleat

panel-front-cleat = front cleat
panel-rear-cleat = rear cleat
panel-left-cleat = left cleat
panel-right-cleat = right cleat

panel-left-side = left side
panel-right-side = right side
panel-left-post = left post
panel-right-post = right post
panel-partition = partition
panel-end = end

panel-lower-rail = lower rail
panel-middle-rail = middle rail
panel-upper-rail = upper rail
panel-left-bracket = left bracket
panel-right-bracket = right bracket

panel-handle-post-n = handle post { $first }
panel-handle-bar = handle bar
panel-handle-board = handle board

panel-hose-plate = hose plate
panel-hose-keeper = hose keeper
panel-hose-horn-n = hose horn { $first }
panel-cord-plate = cord plate
panel-cord-keeper = cord keeper
panel-cord-horn-n = cord horn { $first }

panel-rack-n-plate = rack { $first } plate
panel-rack-n-board = rack { $first } board
panel-rack-n-bracket-n = rack { $first } bracket { $second }

panel-small-shelf-plate = small shelf plate
panel-small-shelf-board = small shelf board
panel-small-shelf-bracket-n = small shelf bracket { $first }
panel-small-shelf-lip = small shelf lip

panel-case-inner-wall = case inner wall
panel-case-outer-wall = case outer wall
panel-case-top = case top
panel-case-back = case back
panel-runner-n = runner { $first }

panel-drawer-side-n = drawer side { $first }
panel-drawer-floor = drawer floor
panel-drawer-back = drawer back
panel-drawer-front = drawer front

panel-switch-plate = switch plate

## Panels by what they are called in the list: of some, the cart has more than one.
panel-side = side
panel-post = post
panel-upright = upright
panel-rail = rail
panel-bracket = bracket
panel-caster-block = caster block
panel-outrigger = outrigger
panel-tray-side = tray side
panel-tray-end = tray end
panel-tray-cleat = tray cleat
panel-tray-floor = tray floor
panel-bucket-cleat = bucket cleat
panel-side-lipping = side lipping
panel-long-lipping = long lipping
panel-short-lipping = short lipping
panel-handle-post = handle post
panel-hose-horn = hose horn
panel-cord-horn = cord horn
panel-rack-n-bracket = rack { $first } bracket
panel-small-shelf-bracket = small shelf bracket
panel-case-wall = case wall
panel-runner = runner
panel-drawer-side = drawer side
