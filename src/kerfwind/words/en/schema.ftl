## The JSON Schema of the shop file.

schema-title = kerfwind shop file
schema-description = All that is owned, measured and wanted.
schema-quantity = { $help } A quantity: { $bounds }.
schema-hood = { $key }: { $hood }
schema-hoods = { $help } { $hoods }
