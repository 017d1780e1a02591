"""The commands and their options as one table: read by ``arguments`` and told by ``help``."""

from __future__ import annotations

from checklists.commandline import day_values, values
from checklists.commandline.option import ALWAYS, AT, DATA, JSON, PRIVATE, TEXT, Command, Option
from checklists.commandline.rule_rows import RULE_COMMANDS
from checklists.commandline.year_rows import YEAR_COMMANDS

COMMANDS: tuple[Command, ...] = (
    Command("today", "open the day's list on the screen (the same as trundle alone)", (TEXT, PRIVATE, *ALWAYS)),
    Command(
        "demo",
        "look around in a demo school; nothing of yours is touched",
        (Option("--reset", "reset", "begin the demo school anew"), TEXT, PRIVATE, *ALWAYS),
    ),
    Command(
        "morning",
        "print the day's list: what to have in which container",
        (
            Option("--by", "by", "in order of container, shelf or class", "shelf", values.read_by),
            PRIVATE,
            *ALWAYS,
        ),
        (
            ("trundle morning", "today's list, container by container"),
            ("trundle morning --by shelf", "the gathering walk: what to take from which shelf"),
            ("trundle morning --date tomorrow", "the next day's list"),
        ),
    ),
    Command(
        "sheet",
        "the day's cart sheet: one page to print and take along; fit for anybody's eyes",
        (
            Option("--html", "html", "as a page for a browser, to print on letter or A4, instead of plain text"),
            Option("--out", "out", "write it into this file; one that ends in .html is HTML", "monday.html", str),
            *ALWAYS,
        ),
        (
            ("trundle sheet", "today's sheet as text: 80 columns, 60 rows a page"),
            ("trundle sheet --out monday.html", "the same to open in a browser and to print there"),
            ("trundle sheet --date tomorrow", "the next day's"),
        ),
    ),
    Command(
        "leaving",
        "what is still open before leaving the store, critical first",
        (Option("--gone", "gone", "also note that you left with what is open"), PRIVATE, *ALWAYS),
    ),
    Command(
        "tick",
        "say that lines are packed, short or not needed",
        (
            Option(
                "--all", "whole", "everything in the container, except what is critical, counted, short or part packed"
            ),
            Option("--count", "count", "only so many are in it now", "18", values.read_number),
            Option(
                "--short", "short", "there are only so many; say with --remedy what you do", "20", values.read_number
            ),
            Option("--remedy", "remedy", " / ".join(values.REMEDIES), "share", values.read_remedy),
            Option("--not-needed", "not_needed", " / ".join(values.REASONS), "room", values.read_reason),
            *ALWAYS,
        ),
        (
            ("trundle tick 11 14", "lines 11 and 14 are packed in full"),
            ("trundle tick 13 --count 18", "18 are in it, the rest is still to add"),
            ("trundle tick 13 --short 20 --remedy share", "only 20 are there; the children share"),
            ('trundle tick 17 --not-needed "room has it"', "line 17 stays at the store"),
            ("trundle tick box-3 --all", "the whole of Box 3, except what must be seen one by one"),
        ),
        "the numbers on the list, or a container with --all",
        200,
        1,
    ),
    Command("undo", "take back the newest thing said, and say what it was", ALWAYS),
    Command(
        "report",
        "say what became of a visit",
        (
            Option("--as-planned", "as_planned", "taught as planned, nobody missing"),
            Option("--outcome", "outcome", " / ".join(values.OUTCOMES), "half", values.read_outcome),
            Option(
                "--missed",
                "missed",
                "class-list numbers of who was absent, none, or unknown",
                "4,11",
                values.read_missed,
            ),
            Option(
                "--missed-count", "missed_count", "how many were absent, without saying who", "2", values.read_number
            ),
            Option("--half", "half", "class-list numbers of who was there for half of it", "6", values.read_half),
            Option("--not-done", "not_done", "so many who were there are not done", "3", values.read_number),
            Option(
                "--not-done-numbers",
                "not_done_numbers",
                "class-list numbers of those not done, as far as known",
                "9,12",
                values.read_not_done,
            ),
            Option("--reached", "reached", "the class went on to this part", "3", values.read_number),
            Option("--taught", "taught", "this part was taught in place of the planned one", "3", values.read_number),
            Option("--students", "students", "so many came", "25", values.read_number),
            Option(
                "--count", "counts", "counted out and back", "scissors=13/12", values.read_out_and_back, several=True
            ),
            Option("--handed-out", "handed_out", "whether the catch-up kit was handed out", "yes", values.read_yes),
            Option("--stands", "stands", "where a container is now", "printing=11", values.read_place, several=True),
            Option(
                "--put-right",
                "put_right",
                "whether a kit was put right",
                "printing=yes",
                values.read_put_right,
                several=True,
            ),
            *ALWAYS,
        ),
        (
            ("trundle report V3 --as-planned --count scissors=13/13", "all went well and all came back"),
            ("trundle report 3-B --missed 4,11 --not-done 3", "two were absent, three are not done"),
            ("trundle report 3-B --not-done-numbers 9,12", "numbers 9 and 12 are not done"),
            ("trundle report 3-B --half 6", "number 6 was called out: present, but not done"),
            ("trundle report 3-B --taught 3", "part 3, though another one was next: that one stays next"),
            ("trundle report V5 --stands printing=11 --put-right printing=no", "the kit stayed in room 11"),
        ),
        "the visit's number or the class",
        1,
        1,
    ),
    Command(
        "low",
        "say that a supply is low, out, or plenty",
        (Option("--level", "level", " / ".join(values.LEVELS), "out", values.read_level), *ALWAYS),
        (
            ("trundle low glue-stick", "glue sticks are low"),
            ('trundle low "white paper" --level plenty', "enough again"),
        ),
        "the supply",
        20,
        1,
    ),
    Command(
        "count",
        "say how many there are of a supply, in all or in one container",
        (
            Option("--in", "inside", "only what is in this container", "box-3", values.read_name),
            *ALWAYS,
        ),
        (
            ("trundle count glue-stick 140", "140 glue sticks are all you have, wherever they are"),
            ("trundle count yarn ball 38 --in box-3", "38 are in Box 3, whatever the list said"),
        ),
        "the supply, and how many",
        21,
        2,
    ),
    Command(
        "order",
        "note that packs of a supply were ordered",
        (
            Option("--expected", "expected", "when they are to come", "2026-10-26", values.read_day_to_move_to),
            Option("--let-go", "let_go", "what is still due of it will not come"),
            *ALWAYS,
        ),
        (
            ('trundle order "white paper" 12', "12 packs of white paper were ordered"),
            ("trundle order glue-stick 4 --expected 2026-10-26", "4 packs, to come on that day"),
            ('trundle order "white paper" --let-go', "the supplier will not send the rest"),
        ),
        "the supply, and how many packs",
        21,
        1,
    ),
    Command(
        "delivered",
        "note that packs of a supply came; what did not come stays due",
        (
            Option("--instead-of", "instead_of", "what was ordered, where this came", "needle", values.read_name),
            *ALWAYS,
        ),
        (
            ('trundle delivered "white paper" 8', "8 packs came; of 12 ordered 4 stay due"),
            (
                'trundle delivered "plastic needle" 60 --instead-of "blunt needle"',
                "the wrong thing came: what was ordered stays due, with a day to claim it by",
            ),
        ),
        "the supply that came, and how many packs",
        21,
        2,
    ),
    Command(
        "orders",
        "what is due, what runs out, and what to order by when",
        ALWAYS,
        (("trundle orders", "orders that have not come, and what is low, out or runs out in time to order it"),),
    ),
    Command(
        "change",
        "say what is different about a day, and see what follows from it",
        (
            Option("--no-school", "no_school", "school does not take place"),
            Option("--school", "school", "school takes place after all"),
            Option("--day", "day", "the day of the rotation that was announced", "C", values.read_name),
            Option("--bells", "bells", "another bell schedule of the plan", "early", values.read_name),
            Option("--substitute", "substitute", "whether a substitute teaches for you", "yes", values.read_yes),
            Option("--away", "away", "all classes that are not visited that day, or none", "3-B,3-K", values.read_away),
            Option(
                "--with",
                "guests",
                "children of a class who join another one: all of that day, or none",
                "3-B:3-K=2",
                day_values.read_guests,
                several=True,
            ),
            Option(
                "--students",
                "students_of",
                "how many of a class's own children come",
                "3-K=27",
                day_values.read_class_and_count,
                several=True,
            ),
            Option(
                "--adults",
                "adults_of",
                "adults in the room, you among them",
                "3-S=1",
                day_values.read_class_and_count,
                several=True,
            ),
            Option(
                "--lesson",
                "lessons",
                "another lesson in a visit, or own again; the class stays at its part",
                "V5=leaf-rubbings",
                day_values.read_lesson_of_visit,
                several=True,
            ),
            Option(
                "--part",
                "parts",
                "another part of the class's lesson in a visit, or next again",
                "V3=3",
                day_values.read_part_of_visit,
                several=True,
            ),
            Option("--fill", "fill", "how far ahead boxes are filled: day, week, cycle", "week", day_values.read_fill),
            Option("--no-mess", "no_mess", "whether the day must stay clean, as for pictures", "yes", values.read_yes),
            *ALWAYS,
        ),
        (
            ("trundle change --no-school", "a snow day: nobody moves on, and the rotation goes on as your school does"),
            ("trundle change --day C", "the office calls this day C"),
            ("trundle change --bells delayed", "school begins later; visits that fall out are named"),
            ("trundle change --away 3-B", "3-B is on a trip; what was packed for it is to be taken out"),
            ("trundle change --away 3-B --with 3-B:3-K=2", "two of 3-B stay behind and join 3-K"),
            ("trundle change --lesson V5=leaf-rubbings", "another lesson in V5; what to take out and put in is told"),
            ("trundle change --part V3=3", "part 3 in V3, though another one is next; that one stays next"),
            ("trundle change --adults 3-S=1", "the aide is absent; parts that need two adults are named"),
        ),
    ),
    Command(
        "class",
        "what is known of a class, and what is new about it; ticks stay",
        (
            Option("--avoid", "avoid", "it must not come near this", "latex", values.read_name, several=True),
            Option("--avoid-no-more", "avoid_no_more", "it may again", "latex", values.read_name, several=True),
            Option(
                "--need", "needs", "so many children need it; 0: nobody", "fine-motor=2", values.read_need, several=True
            ),
            Option("--students", "size", "how many children it has, or about how many", "25", values.read_size),
            Option(
                "--left",
                "gone_numbers",
                "class-list numbers of who left; the others keep theirs",
                "7",
                values.read_list_numbers,
                several=True,
            ),
            Option("--back", "back_numbers", "who has not left after all", "7", values.read_list_numbers, several=True),
            Option("--adults", "usual_adults", "adults in the room, you among them", "2", values.read_number),
            Option("--has", "has", "the room or the children have it", "pencil", values.read_name, several=True),
            Option("--has-not", "has_not", "they do not have it any more", "pencil", values.read_name, several=True),
            PRIVATE,
            *ALWAYS,
        ),
        (
            ("trundle class 2-R", "what is known of 2-R; needs and what it avoids only with --private"),
            ("trundle class 2-R --avoid latex", "nothing of latex comes along for 2-R; what is packed is told"),
            ("trundle class 2-R --need fine-motor=2", "two children need tools for small hands"),
            ('trundle class 2-R --students "about 24"', "about 24 children until somebody has counted"),
            ("trundle class 2-R --left 7", "number 7 left; the numbers of the others stay"),
        ),
        "the class; nothing for all of them",
        1,
    ),
    Command(
        "joined",
        "a new child: the class is one larger, and what it has missed of the lesson is packed for it",
        ALWAYS,
        (("trundle joined 3-B", "a new child in 3-B gets the next class-list number"),),
        "the class",
        1,
        1,
    ),
    Command(
        "left",
        "a child has left: the class is one smaller, the others keep their numbers",
        (Option("--need", "need", "a need of the class that goes with it", "fine-motor", values.read_name), *ALWAYS),
        (
            ("trundle left 3-K 7", "number 7 has left 3-K; its work is to be taken out of the folder"),
            ("trundle left 3-K 7 --need fine-motor", "one child fewer needs tools for small hands"),
        ),
        "the class and the class-list number",
        2,
        2,
    ),
    Command(
        "excuse",
        "decide about a child who missed much of a lesson",
        (
            Option("--short-version", "short_version", "it makes up the short version from now on"),
            Option("--take-home", "take_home", "it has its set and makes it up at home"),
            Option("--lesson", "lesson", "another lesson than the one it is behind in", "burlap", values.read_name),
            *ALWAYS,
        ),
        (
            ("trundle excuse 3-B 11", "number 11 need not make up what it missed"),
            ("trundle excuse 3-B 11 --short-version", "for number 11 the short version is packed from now on"),
            ("trundle excuse 3-B 11 --take-home", "number 11 has its set and does it at home"),
        ),
        "the class and the class-list number",
        2,
        2,
    ),
    Command(
        "broken",
        "pieces broke, in the kiln or on the way: they are made again where the same medium is out",
        (
            Option("--count", "count", "how many more broke, without saying whose", "2", values.read_number),
            Option("--lesson", "lesson", "another lesson than the newest one", "pinch", values.read_name),
            Option("--part", "part", "another part than the one they were made in", "1", values.read_number),
            *ALWAYS,
        ),
        (
            ("trundle broken 4-D 6,19", "the pieces of numbers 6 and 19 broke"),
            ("trundle broken 4-D --count 2", "two broke, nobody knows whose"),
        ),
        "the class, and class-list numbers",
        2,
        1,
    ),
    Command(
        "hanging",
        "work of a class hangs on a wall and is not in its folder",
        (
            Option("--until", "until", "the last day it hangs", "2026-10-30", values.read_day_to_move_to),
            Option("--back", "back", "all of it is back in the folder"),
            *ALWAYS,
        ),
        (
            ("trundle hanging 3-B 12 --until 2026-10-30", "12 pieces of 3-B hang until that day"),
            ("trundle hanging 3-B --back", "they are back in the folder"),
        ),
        "the class, and how many pieces",
        2,
        1,
    ),
    Command(
        "substitute",
        "the sheet for a substitute: one page, with a slip to fill in; fit for anybody's eyes",
        ALWAYS,
        (
            ("trundle substitute", "today's sheet, whether a substitute is expected or not"),
            ("trundle substitute --date 2026-10-06", "that day's; trundle change --substitute yes packs for it"),
        ),
    ),
    Command(
        "answer",
        "answer one of the questions before leaving or at the day's end",
        (
            Option(
                "--to",
                "to",
                "with the answer later: the day to be asked again",
                "2026-10-08",
                values.read_day_to_move_to,
            ),
            *ALWAYS,
        ),
        (
            ('trundle answer "scissors missing" "reported"', "a missing tool was reported"),
            ('trundle answer "yarn ball" done', "what was carried over is done"),
            ('trundle answer "yarn ball" later --to 2026-10-08', "ask again on that day, not before"),
        ),
        "words of the question, and the answer",
        2,
        2,
    ),
    Command(
        "close",
        "close the day: move classes on, carry over what is open, and say all it did",
        (Option("--look", "look", "only show what is unresolved; close nothing"), PRIVATE, *ALWAYS),
    ),
    Command(
        "why",
        "why something is on the list, how its number came about, and how to change it",
        (PRIVATE, *ALWAYS),
        (
            ("trundle why 13", "where line 13 comes from and how its number was worked out"),
            ("trundle why kiln", "the one line, task, check, caution or carried matter with this word"),
        ),
        "the number of a line, a task, a check or a thing to take out, or words of anything",
        20,
        1,
    ),
    Command(
        "changeover",
        "what to take out of a box or kit, put in and leave when lessons change",
        (PRIVATE, *ALWAYS),
        (
            ("trundle changeover", "every container that something is to be taken out of"),
            ("trundle changeover box 3", "Box 3: what goes out, what comes in, what stays and for which class"),
        ),
        "a container; nothing for all that change",
        3,
    ),
    *YEAR_COMMANDS,
    *RULE_COMMANDS,
    Command("check", "everything that is wrong in the plan, the rules and the daybook, at once", (DATA, AT, JSON)),
)

BY_NAME = {command.name: command for command in COMMANDS}
