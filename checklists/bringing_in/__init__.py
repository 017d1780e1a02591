"""Bringing in what exists: from a file or a paste to what was understood of it, and to the plan as it would be.

    bytes                decoding.read_text          any encoding, which one was guessed
    text                 table.read_table            rows and cells, whatever stands between them
    rows                 columns.find_columns        which column is what, by headings or by what stands below them
    a table and a plan   classes, timetable, supplies, days_off      each gives an ``Understood``
    an iCalendar file    calendar_file, occurrences, days_off        events, their dates, which are days off
    all of it            bring_in.bring_in(kind, content, files, on) -> Understood

Nothing here writes, and nothing is evaluated: a cell "=1+1" is a text. Nothing is ever removed from a plan.
"""
