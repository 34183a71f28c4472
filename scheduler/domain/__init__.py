"""The ship, her week and her plan in the ship's words: frozen records that know no third party."""
