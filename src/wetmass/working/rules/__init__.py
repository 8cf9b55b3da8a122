"""Rules by which a number of a line is seen to be another one than its name speaks of, one topic a file.

A rule looks at one line whose arithmetic holds, tells its slip and says True, or says False.  It keeps silent
where the page leaves another reading open.  `order` lists them, the more certain first.
"""
