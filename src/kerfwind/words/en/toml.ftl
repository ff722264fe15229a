## A text that should be TOML.

toml-unread =
    .found = { $at ->
        [end] the end of the file  ({ $why })
       *[row] { $found }  ({ $why })
    }
    .allowed = TOML
    .mend = { $cause ->
        [twice] A key stands twice in this table; keep one.
       *[other] Texts stand in quotes, such as height = "22 in"; a table starts with [name].
    }
toml-too_many =
    .found = { $values } keys and values
    .allowed = up to { $most }
    .mend = Keep what the plan is for, or make two files of it.
toml-digits =
    .found = a number of { $digits } digits, `{ $number }`
    .allowed = up to { $most } digits
    .mend = Write as many as you can measure.
toml-deep =
    .found = tables more than { $most } deep in one another
    .allowed = tables and keys as `kerfwind schema` names them
    .mend = Take out the brackets or dots that are too many.
