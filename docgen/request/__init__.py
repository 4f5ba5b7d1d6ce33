"""A case and what its biller adds -> a request for prior authorization in HL7 FHIR, and the payer's answer back."""
