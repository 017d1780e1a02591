"""What Trundle computes and keeps: the plan, the day's list, the daybook. Knows no screen."""

VERSION = "0.1.0"
