"""The pages: one folder per section; thin, they ask a service and show what it says."""
