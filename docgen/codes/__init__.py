"""Published code lists as data: procedure codes (HCPCS Level II) and diagnosis codes (ICD-10-CM)."""
