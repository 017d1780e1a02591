"""Her own rules: made of what she sees, tried on the coming weeks, switched off and on, for screens and commands.

    from a line of the list            proposals_for(plan, rules, day, line) -> tuple[Proposal, ...]
    changed as she likes               structs.replace(proposal.choice, when=…, per=…, count=…, critical=…)
    in a sentence                      say_choice(choice, plan, rules) -> str
    as a rule                          rule_from(choice, plan, rules, today) -> Rule
    rules as they would be             rules_with(book, rule) · rules_less(book, id) · rules_without(book, off)
                                       rules_used_again(book, off) · rules_set(book, name, value)
    what it does in ten school days    preview_of(book, rules_after, today) -> Preview; say_preview(preview) -> rows
    kept, switched                     book.keep_rule(rule), .take_rule_out(id), .switch_off(off), .switch_on(off)
    everything that is off             off_entries(book, today) -> tuple[OffEntry, ...]
    settings                           settings_of(book.rules); book.set_setting(name, value)
    a rule in full, and all of them    tell_rule(rule, plan, rules, own=…) · rules_by_subject(rules, own)
    what looks wrong                   doubts_about(book, today) -> tuple[Problem, ...], level "note"

Each module has one of these: ``choices``, ``trying``, ``preview``, ``off``, ``telling``, ``subjects``, ``doubts``. The
book's methods raise NotSaved and change nothing when the file cannot be written or the rule does not fit. Nothing here
writes.
"""
