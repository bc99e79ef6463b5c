-- SPDX-FileCopyrightText: The Brinewright authors
-- SPDX-License-Identifier: Apache-2.0
-- One element of few batches is found without its other elements.
DROP INDEX measurement_by_batch;
CREATE INDEX measurement_by_batch ON measurement (batch, analyte);
