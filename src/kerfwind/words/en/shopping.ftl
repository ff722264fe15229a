## The shopping list.

shopping-for_tools = for { $tools }
shopping-filament = filament for { $part }
shopping-made_to_order = { $part }, made to order
shopping-boxed = a box of { $pack }; { $needed } needed
