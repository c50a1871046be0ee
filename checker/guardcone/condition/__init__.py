"""The language of rules: conditions, sentences and kinds of value; it knows nothing of kilns."""
