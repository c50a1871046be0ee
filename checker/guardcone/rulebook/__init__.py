"""The rule book: rules, limits and reasons, their files and examples, and a studio's own.

What a check needs (`book`) imports neither the parser nor YAML; what reads rule files does.
"""
