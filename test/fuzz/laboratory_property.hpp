// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cmath>
#include <string>
#include <string_view>

#include "fuzz/one_line.hpp"
#include "io/budget_file.hpp"
#include "io/column_map.hpp"
#include "io/readings_file.hpp"
#include "io/titration_file.hpp"
#include "io/water_file.hpp"
#include "service/read_curve.hpp"
#include "service/test_files.hpp"

namespace bw::fuzz {

/// What a curve comes to is finite, or a complaint.
inline Fault fault_of_curve(const io::TitrationFile& file) {
    if (file.points.size() != file.lines.size()) {
        return "points without lines";
    }
    for (const assay::CurvePoint& point : file.points) {
        if (!std::isfinite(point.volume) || !std::isfinite(point.signal)) {
            return "a point that is not finite";
        }
    }
    const auto report = service::read_curve({file, {}, {}});
    if (!report) {
        return fault_of_complaint(report.error());
    }
    if (report->alkalinity) {
        const auto& a = *report->alkalinity;
        if (!std::isfinite(a.fit.alkalinity_mol_per_kg) || !(a.fit.u_mol_per_kg >= 0)) {
            return "an alkalinity that is not finite";
        }
    }
    if (report->end_points) {
        if (report->end_points->counted >= report->end_points->found.points.size()) {
            return "an end point that is none";
        }
        for (const auto& point : report->end_points->found.points) {
            if (!std::isfinite(point.volume)) {
                return "an end point that is not finite";
            }
        }
    }
    return {};
}

template <class T>
Fault fault_of_reader(const Result<T>& read) {
    return read ? Fault() : fault_of_complaint(read.error());
}

inline Fault fault_of_titration(const Result<io::TitrationFile>& file) {
    return file ? fault_of_curve(*file) : fault_of_complaint(file.error());
}

/// Any bytes are a table of numbers or a complaint; every reader of one gives values or a
/// complaint.
inline Fault fault_of_columns(std::string_view bytes) {
    const auto table = io::parse_columns(bytes, "input.csv");
    if (!table) {
        return fault_of_complaint(table.error());
    }
    for (const auto& row : table->rows) {
        if (row.size() != table->names.size()) {
            return "a row is not as wide as its head";
        }
    }
    if (const Fault fault = fault_of_titration(io::titration_of(*table))) {
        return fault;
    }
    if (const Fault fault = fault_of_reader(io::readings_of(*table, {}))) {
        return fault;
    }
    return fault_of_reader(io::units_of(*table));
}

/// The same for a document, whatever kind it says it is.
inline Fault fault_of_laboratory_document(const io::Document& document) {
    for (const Fault& fault :
         {fault_of_titration(io::titration_of(document)),
          fault_of_reader(io::readings_of(document)), fault_of_reader(io::read_budget(document)),
          fault_of_reader(io::read_water(document)), fault_of_reader(io::read_column_map(document)),
          fault_of_reader(service::read_method(document)),
          fault_of_reader(service::read_limits(document))}) {
        if (fault) {
            return fault;
        }
    }
    return {};
}

/// Files of the laboratory: points of a titration, readings, budgets, methods and limits.
inline Fault fault_of_laboratory_file(std::string_view bytes) {
    if (const Fault fault = fault_of_columns(bytes)) {
        return fault;
    }
    const auto document = io::parse_document(bytes, "input");
    return document ? fault_of_laboratory_document(*document)
                    : fault_of_complaint(document.error());
}

}  // namespace bw::fuzz
