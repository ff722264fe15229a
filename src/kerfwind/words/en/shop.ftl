## What surrounds the cut.

hood-pad-holes = a sanding pad with holes and a shroud
hood-belt-shroud = a belt sander's shroud
hood-disc-table = a disc or belt sander's cabinet
hood-saw-shroud = a hand-held saw with a closed blade shroud
hood-mitre-boot = a boot behind a mitre saw's blade
hood-band-saw-port = a port under a band saw's table
hood-saw-cabinet = a table saw's closed cabinet
hood-blade-guard = a table saw's guard with a port
hood-router-fence = a port in a router table's fence
hood-router-base = a hood on a hand router's base
hood-planer-hood = a thickness planer's hood
hood-jointer-chute = a jointer's chute
hood-drill-fence = a nozzle at a drill press
hood-lathe-hood = an open hood behind a lathe
hood-floor-nozzle = a floor nozzle
hood-hood-box = an open box beside the cut
hood-bench-nozzle = a nozzle laid beside the work

## What is done to the wood.

operation-sanding = sanding
operation-sawing = sawing
operation-routing = routing
operation-planing = planing or jointing
operation-drilling = drilling
operation-turning = turning
operation-sweeping = sweeping up what has fallen
