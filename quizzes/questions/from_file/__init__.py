"""From a table in the bank's files to a question, or one sentence on what is wrong with it."""
