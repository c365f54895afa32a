"""The page that checks a signed record, for anybody who is shown one."""
