"""Backups as records and words; what touches a disk is in ``files``."""
