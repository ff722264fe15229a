## The usual cautions, each with the work it belongs to.


cautions-kickback = Keep guard and riving knife on, stand beside the line of cut, and never use fence and miter (mitre) gauge together on a through cut. Support a large sheet on both sides of the saw.
    .title = Kickback
cautions-small_pieces = Do not hold a piece shorter than a hand's width against fence or blade: cut it from a longer piece, use a sled and push block, or cut it by hand.
    .title = Small pieces
cautions-eyes_ears_lungs = Glasses, ear protection and a fitted dust mask, for the one who holds the sheet too.
    .title = Eyes, ears, lungs

cautions-screws_into_edges = Drill pilot holes. Plywood splits along its edge, and a screw that wanders comes out of the face: stop and reset it rather than force it.
    .title = Screws into edges
cautions-lifting = Set the cart on its casters before the vacuum goes in, and get help with full sheets.
    .title = Lifting

cautions-tipping = Push low and slowly, never pull by the hose. Lift the front over cords and thresholds, and empty a full bucket before you move it far. Lock the casters before you work, unless this plan says to leave them free.
    .title = Tipping

cautions-dust_in_the_lungs = Suction at the tool lowers the dust and does not end it. Fine wood dust can cause asthma and cancer: wear a fitted mask while sanding, routing and emptying, air the room, and keep others out of it.
    .title = Dust in the lungs
cautions-sparks = Never vacuum anything that glows or smokes, and never grind metal into wood dust. A nail or a blunt blade makes embers that smoulder for hours in a bucket: look before you leave.
    .title = Sparks and embers
cautions-static = Dry dust in plastic hose charges it, and you may feel shocks: do not let one startle you beside a blade. Plastic does not conduct, so a grounded wire along it drains only what it touches; no measurement on hoses like these was found, so count on it for nothing more, least of all against fire.
    .title = Static
cautions-blocked_hose = When a hose blocks, the bucket feels the vacuum's whole suction and can fold in. Switch off when the sound rises, and do not stand over the bucket.
    .title = A blocked hose

cautions-dustiest_minute = Empty outdoors with a mask on, gently, downwind. Knock and wash filters outdoors, never with compressed air in the shop.
    .title = The dustiest minute
cautions-oily_rags = Oily rags and dust of fresh finish heat up by themselves. Keep them out of the bucket, in a closed metal can or spread out to dry.
    .title = Oily rags and finish dust
cautions-stored_dust = Wood dust burns, and thrown into the air it can explode near a flame. Empty the bucket when the day ends; no heater, pilot flame or smoking near it.
    .title = Do not store dust

cautions-circuits = One heavy cord, rolled out fully, no chain of power strips. A tool and a vacuum together can overload a circuit. Local codes decide; new circuits are a licensed electrician's work.
    .title = Circuits and cords
cautions-reaching_in = Pull the plug before you clear a port, change a hose at a blade or open the vacuum.
    .title = Before you reach in
