// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>

#include "works/batch.hpp"
#include "works/catalogue.hpp"
#include "works/certificate.hpp"
#include "works/departure.hpp"
#include "works/evidence.hpp"
#include "works/kept_map.hpp"
#include "works/limits.hpp"
#include "works/lot.hpp"
#include "works/method.hpp"
#include "works/mixing_sheet.hpp"
#include "works/person.hpp"
#include "works/recipe_version.hpp"
#include "works/release.hpp"
#include "works/run.hpp"
#include "works/sample.hpp"
#include "works/scale.hpp"
#include "works/site.hpp"
#include "works/supplier.hpp"
#include "works/test_portion.hpp"
#include "works/weighing.hpp"

/// Every entity that the books keep as a record of its own.
#define BW_EVERY_RECORD(X)  \
    X(works::Person)        \
    X(works::Material)      \
    X(works::Supplier)      \
    X(works::Lot)           \
    X(works::Stock)         \
    X(works::Scale)         \
    X(works::RecipeVersion) \
    X(works::Batch)         \
    X(works::Weighing)      \
    X(works::Departure)     \
    X(works::Sample)        \
    X(works::Method)        \
    X(works::Limits)        \
    X(works::TestPortion)   \
    X(works::Run)           \
    X(works::Release)       \
    X(works::Certificate)   \
    X(works::MixingSheet)   \
    X(works::KeptMap)       \
    X(works::Series)        \
    X(works::Site)
