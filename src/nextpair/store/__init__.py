"""What is kept: records, logs, results, accounts, in a database or in memory."""
