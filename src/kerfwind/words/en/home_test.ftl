## The page of the vacuum's home test.

home_test-title = Home test of the suction curve
home_test-of = { $shop }: { $vacuum }
home_test-why = A thin plate with one hole of known size lets a known airflow through at each suction. A few holes give the vacuum's whole curve, which decides the air at every tool.
home_test-held = Plates are held on
home_test-gauge = Gauge
home_test-gauge-range = 0 to { $most } of vacuum, dry
home_test-steps = Steps
home_test-readings = Readings
home_test-entry = Into the shop file

home_test-column-hole = Hole
home_test-column-plate = Plate at most
home_test-column-drilled = Hole as drilled, measured
home_test-column-expected = Expected
home_test-column-first = Gauge, first time
home_test-column-second = Gauge, second time
home_test-no_hole = no hole
home_test-any_plate = any

## What the plates are held on.

air-home_test-held-hose = the tool end of the { $hose }, lying straight
air-home_test-held-inlet = the vacuum's inlet

## Its steps.

air-home_test-step-plates = Cut plates of sheet metal or stiff plastic no thicker than { $thickness }, one for each hole ({ $holes }) and one without. A thicker board, up to { $thickest } of the hole's width, is corrected for, less surely: write down its thickness.
air-home_test-step-drill = Drill each hole clean and square, without a chamfer; take the burr off, but keep the edge towards the room sharp. Measure each hole across two ways and write down the mean.
air-home_test-step-hold_hose = Push the { $hose } straight into the vacuum, without separator or branches: the curve is the vacuum's own. Hold the plates on its tool end, the hose lying straight. Make a { $tube } hole for the gauge's tube through its side, as close behind the plate as it will go, and seal around it.
air-home_test-step-hold_inlet = Hold the plates on the vacuum's inlet. Make a { $tube } hole for the gauge's tube through its side, as close behind the plate as it will go, and seal around it.
air-home_test-step-run = Clean or fit the filter as you use it, close the tank, and run the vacuum for a minute with the hose open. Keep the plate clear of walls, people and draughts.
air-home_test-step-read = Hold a plate on so that it seals all round, wait until the needle rests, read it, take the plate off. The plate without a hole: three seconds at most.
air-home_test-step-twice = Go from the largest hole to the smallest and back again, so that each is read twice. Readings that differ by more than a twentieth: seal better and read again.
air-home_test-step-write = Write holes and readings into the shop file as shown below.

## Its cautions.

air-home_test-caution-water = A shop vacuum lifts water about { $height }. Use a dry gauge, or a water tube that is higher than that with a catch bottle in its line: water drawn into the motor can kill you.
air-home_test-caution-seal = Seal the hose for seconds only: most motors are cooled by the air they move.
air-home_test-caution-grip = Never hold a hand, face or clothing over the hose or a hole: it grips and bruises.
air-home_test-caution-dust = Empty the tank first, wear a mask for its dust, and ear muffs while it runs.
air-home_test-caution-clamp = Clamp the plates to drill them, wear eye protection, and file off sharp corners.
