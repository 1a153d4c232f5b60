"""Independent solutions and stored runs of other codes, to hold the towed-line core against.

Nothing in this folder imports spreadwright: each file solves its case by another route (a closed form, a
quadrature, an initial-value problem, another program), so that agreement says something.
"""
