"""The cloth on the table: where it lies, found by marks on it, slid on in reaches, measured."""
