"""Checks that look at more than one key: do the parts make sense together?"""
