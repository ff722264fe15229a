## Answers on the command line.

answer-line = { $file }, line { $line }
answer-found = found:
answer-allowed = allowed:
answer-mend = mend:
answer-more = and { $count } more.
answer-to_mend = { $count ->
    [one] 1 thing to mend. Nothing was written.
   *[other] { $count } things to mend. Nothing was written.
}
answer-nothing_written = Nothing was written.

answer-unwritten =
    .found = { $held ->
        [yes] another run is writing there
       *[no] { $told }
    }
    .allowed = a place that can be written to, with room for the files
    .mend = { $why ->
        [full] Make room on the disk, or choose a place on another.
        [file_for_folder] A file stands where a folder should be: choose another name.
        [closed] Choose a place that you may write to, or change its permissions.
        [not_whole] The folder cannot be replaced as a whole here: name a new one.
        [folder_for_file] A folder stands where a file should be: choose another name.
        [held] Wait until the other run has ended, then run this again.
        [read_only] Choose a place that you may write to.
       *[other] Check the folder, its permissions and the space on its disk.
    }
answer-pdf_is_folder =
    .found = a folder
    .allowed = a PDF file in a folder that is there
    .mend = Name the file, such as page.pdf.
answer-pdf_without_folder =
    .found = no folder `{ $parent }`
    .allowed = a PDF file in a folder that is there
    .mend = Make it first, or choose another place.

place-output = what is printed or written
