"""From tables to the domain: a voyage folder or workbook is read whole, or refused with every fault in it."""

from scheduler.inputs.begin import begin_folder
from scheduler.inputs.folder import read_folder
from scheduler.inputs.reference import TABLES

__all__ = ["TABLES", "begin_folder", "read_folder"]
