## Stages of a plan, for a person who waits.
plan-stage-fittings = choosing fittings
plan-stage-cart = building the cart and nesting its panels
plan-stage-air = solving the air
plan-stage-help = looking for what would help
plan-stage-circuits = checking circuits
plan-stage-breathing = following the dust
plan-stage-drawing = drawing
plan-stage-pages = setting the pages
plan-stage-files = writing files for machines

## What the plan as a whole finds.
hookup-served_twice = one way for its dust
hookup-served_twice-pieces_listed = It stands on branch { $branch }, and a hose is planned for it too: the pieces from its port to the hose are on the shopping list.
    .do = Leave them out if the hose never goes to it. How the branch joins its port and the unit is not planned: measure and choose those joints yourself.

cart-cannot_build = a cart that meets the wishes
cart-cannot_build-refused = No cart can be built. What stands against it is { $wish }. Found: { $found }; allowed: { $allowed }.
    .do = { $mend }
