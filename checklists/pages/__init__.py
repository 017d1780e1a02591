"""What is known of a day, laid out: plain text for paper and pipes, JSON for scripts. Functions of records to text."""
