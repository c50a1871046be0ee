"""The rule book: loads, types and compiles rules; vocabulary of facts; limits.

What a check needs (`book`, `vocabulary`) imports neither the parser nor YAML; what reads rule files
(`book_files`) does.
"""
