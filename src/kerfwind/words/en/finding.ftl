## What every finding shares.

finding-must = must be { $way ->
    [at-least] at least
   *[at-most] at most
} { $limit }

finding-passes = { $share ->
    [nearly-all] passes in more than 99 of 100 cases
    [hardly-any] passes in fewer than 1 of 100 cases
   *[some] passes in { $cases } of 100 cases
}

# The same in a row of many: best value and best limit.
finding-brief = { $way ->
    [at-most] { $value }, at most { $limit }
   *[at-least] { $value } of { $limit }
}
finding-brief-likely = { $way ->
    [at-most] { $value }, at most { $limit }
   *[at-least] { $value } of { $limit }
} ({ $side ->
    [under] under 1 in 100
    [over] over 99 in 100
   *[at] { $cases } in 100
})
finding-each = { $about } { $brief }

# A change of the shop file that was tried.
finding-fix = { $filled ->
    [no] { $place } left empty
   *[yes] { $place } set to { $to }
}
    .do = { $filled ->
        [no] leave { $place } empty
       *[yes] set { $place } to { $to }
    }
finding-costs = { $priced ->
    [free] costs nothing
    [yes] costs about { $price }
   *[no] its cost is not known
}
finding-tried = { $change }: { $where ->
    [some] at { $at } { $outcome ->
        [builds] a cart can then be built
        [passes] it then passes
       *[helps] it helps, but not enough alone
    }
   *[all] { $outcome ->
        [builds] a cart can then be built
        [passes] it then passes
       *[helps] it helps, but not enough alone
    }
}{ $valued ->
    [yes] , with { $value }
   *[no] {""}
}{ $priced ->
    [free] ; costs nothing
    [yes] ; costs about { $price }
   *[no] {""}
}.

# A good answer that is no more than likely.
finding-doubt = { $likely ->
    [even] { $settled ->
        [no] as likely as not, and not settled by what is known
       *[yes] as likely as not
    }
   *[likely] { $settled ->
        [no] likely, but not settled by what is known
       *[yes] likely, but with little to spare
    }
}

level-good = good
level-advice = advice
level-problem = problem
level-stop = stop
level-unknown = unknown

## How items of a list hang together.

list-and = { $before } and { $after }
list-or = { $before } or { $after }
list-then = { $before }, then { $after }
list-commas = { $before }, { $after }
list-semicolons = { $before }; { $after }
list-plus = { $before } + { $after }
list-arrows = { $before } → { $after }
list-sentences = { $before } { $after }

## Numbers.

number-range = { $before } to { $after }
number-percent = { $number } %
number-mm = { $number } mm
number-inch = { $number } in
number-feet = { $number } ft
number-metres = { $number } m
number-ounces = { $number } oz
number-grams = { $number } g
number-milligrams = { $number } mg
number-microns = { $number } µm
number-minutes = { $number } min
number-hours = { $number } h
number-square_inches = { $number } in²
number-square_mm = { $number } mm²
number-both = { $first } ({ $second })
number-money = { $sign ->
    [yes] { $currency }{ $number }
   *[no] { $number } { $currency }
}
