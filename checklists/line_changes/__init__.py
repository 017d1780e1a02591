"""What is wrong with a line of the list, and what of the plan that changes: ``offers.offers_for``."""
