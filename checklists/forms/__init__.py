"""The plan as forms: what each field is called, how it is said, what can be typed into it, and the plan that follows.

The fields themselves are the records of ``plan.records``; nothing here knows one by name that it need not.
"""
