"""A store kept over years: backed up while people work, put back, people brought in and erased."""
