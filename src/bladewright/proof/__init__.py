"""Is this serial good: rules that judge evidence against limits, and a blade's verdict. A fail never becomes a pass."""
