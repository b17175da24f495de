"""Invented jobs to look round with: nobody in them, and no price, is real."""
