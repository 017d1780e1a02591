"""What people type for a date, a time of day, a class: one reading of each, for every question, form and table."""
