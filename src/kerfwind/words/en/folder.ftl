## A folder that results cannot go to.

folder-no_name =
    .found = no name
    .allowed = a folder that is new, empty, or holds results of an earlier `kerfwind { $command }`
    .mend = Name a folder, such as `--out results`.
folder-link =
    .found = a link to { $to }
    .allowed = a folder that is new, empty, or holds results of an earlier `kerfwind { $command }`
    .mend = Name the folder itself.
folder-current =
    .found = the folder that you are in, which is replaced as a whole
    .allowed = a folder that is new, empty, or holds results of an earlier `kerfwind { $command }`
    .mend = Name one in it, such as `--out results`, or leave it (`cd ..`) and name it from there.
folder-parent_is_file =
    .found = { $parent } is a file
    .allowed = a folder that is new, empty, or holds results of an earlier `kerfwind { $command }`
    .mend = A file stands where a folder should be: choose another name.
folder-closed_parent =
    .found = { $parent }, in which it is or would be made, may not be written to
    .allowed = a folder that is new, empty, or holds results of an earlier `kerfwind { $command }`
    .mend = Choose a place that you may write to, or change its permissions.
folder-is_file =
    .found = no folder but a file
    .allowed = a folder that is new, empty, or holds results of an earlier `kerfwind { $command }`
    .mend = A file stands where a folder should be: choose another name.
folder-mounted =
    .found = the top of a disk or of a mounted folder, which cannot be replaced as a whole
    .allowed = a folder that is new, empty, or holds results of an earlier `kerfwind { $command }`
    .mend = Name a folder in it, such as `--out { $within }`.
folder-closed =
    .found = a folder that you may not read or write to
    .allowed = a folder that is new, empty, or holds results of an earlier `kerfwind { $command }`
    .mend = Choose a place that you may write to, or change its permissions.
folder-list_unread =
    .found = a list of what kerfwind wrote that cannot be read
    .allowed = a folder that is new, empty, or holds results of an earlier `kerfwind { $command }`
    .mend = Put the list back as it was, or name a new folder.
folder-others =
    .found = { $count ->
        [one] a folder with something that kerfwind did not write there, such as `{ $first }`
       *[other] a folder with { $count } files or folders that kerfwind did not write there, such as `{ $first }`
    }
    .allowed = a folder that is new, empty, or holds results of an earlier `kerfwind { $command }`
    .mend = Name a new folder, such as `--out { $within }`, or empty this one yourself.
folder-other_command =
    .found = results of `kerfwind { $found }`
    .allowed = a folder that is new, empty, or holds results of an earlier `kerfwind { $command }`
    .mend = Name a new folder, such as `--out { $beside }`.
folder-link_inside =
    .found = a link, where results go
    .allowed = a folder that is new, empty, or holds results of an earlier `kerfwind { $command }`
    .mend = Take it away (what it names stays), or name a new folder.
folder-mounted_inside =
    .found = { $what ->
        [folder] a mounted disk or folder in the folder, which cannot be replaced as a whole
       *[file] a mounted file in the folder, which cannot be replaced as a whole
    }
    .allowed = a folder that is new, empty, or holds results of an earlier `kerfwind { $command }`
    .mend = Unmount it, or name a new folder.
folder-closed_inside =
    .found = a folder in it that you may not read or write to
    .allowed = a folder that is new, empty, or holds results of an earlier `kerfwind { $command }`
    .mend = Change its permissions, or name a new folder.

## A person's files that have another name now.

folder-kept-changed = Kept: { $name }, which you had changed, is now { $now }.
folder-kept-in_the_way = Kept: your { $name } stood where a result goes, and is now { $now }.
folder-kept-saved_meanwhile = Kept: { $name }, which was saved meanwhile, is now { $now }.
