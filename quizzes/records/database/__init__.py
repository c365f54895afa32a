"""The database under the records: tables, triggers, versions, SQLite and PostgreSQL apart."""
