## The shopping list.

shopping-for_tools = for { $tools }
shopping-filament = filament for { $part }
shopping-made_to_order = { $part }, made to order
shopping-tape = self-bonding tape, a roll
shopping-paint = paint, about { $volume } for two coats
shopping-edging = edging to iron on, { $length }
shopping-edging-or_seal = to cover the plies that show; or seal them, with sealer or thinned glue, before paint
shopping-boxed = a box of { $pack }; { $needed } needed

shopping-on_hand = on hand, nothing to buy
shopping-least_proven = all sheets together: least money possible, proven
shopping-least = all sheets together: no layout costs less than { $least }

shopping-intro = Prices marked “about” are rough, and in dollars alone: in other money only the prices of your own file are told. Write your own over them.
shopping-with_note = { $what } ({ $note })
shopping-about = about { $price }

shopping-kind-sheet = sheet
shopping-kind-fitting = fitting
shopping-kind-print = print
shopping-kind-hardware = hardware
shopping-kind-finish = finish

shopping-standing-given = given
shopping-standing-about = about
shopping-standing-none = none

shopping-column-kind = kind
shopping-column-what = what
shopping-column-number = number
shopping-column-each = each { $currency }
shopping-column-together = together { $currency }
shopping-column-price-is = price is
shopping-column-note = note
