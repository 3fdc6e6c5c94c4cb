"""Tests of many things made once: each is looked at on its own, so that a failure names it."""
import functools


def for_each(things, name):
    """Makes of a check of one thing a test of all.

    @param things  gives the things of a test case: a list, or several lists' worth
    @param name    what a failure calls one of them"""
    def of(check):
        @functools.wraps(check)
        def test(self):
            found = 0
            for thing in things(self):
                found += 1
                with self.subTest(of=name(thing)):
                    check(self, thing)
            self.assertGreater(found, 0, "nothing to look at")
        return test
    return of
