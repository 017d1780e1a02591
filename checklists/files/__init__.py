"""Everything that touches a disk: reading what a person wrote, and keeping what was done so that nothing is lost."""
