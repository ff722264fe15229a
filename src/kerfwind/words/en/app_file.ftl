## The file that is open in the page.

app-file-held =
    .found = this file is open in another window of the program
    .allowed = one page for a file, with as many tabs as you like
    .mend = Use the page that is open already, or end it and open the file again.
app-name_taken =
    .found = a second “{ $given }”
    .allowed = a name of its own for each
    .mend = Call this one otherwise, such as “{ $free }”.
