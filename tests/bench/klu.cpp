// SPDX-License-Identifier: MIT
#include "klu.hpp"

#include <cvode/cvode.h>
#include <nvector/nvector_serial.h>
#include <sunlinsol/sunlinsol_klu.h>
#include <sunmatrix/sunmatrix_sparse.h>

#include <algorithm>
#include <stdexcept>
#include <string>

namespace tidemark::bench {
namespace {

using Vector = Eigen::VectorXd;
using Map = Eigen::Map<Vector>;
using Sparse = Eigen::SparseMatrix<double>;

/// y' = J y, linear.
struct Problem {
    Sparse jacobian;
};

Map map(N_Vector v) {
    return {N_VGetArrayPointer(v), N_VGetLength(v)};
}

int right_side(realtype, N_Vector y, N_Vector slope, void* data) {
    map(slope).noalias() = static_cast<Problem*>(data)->jacobian * map(y);
    return 0;
}

int jacobian(realtype, N_Vector, N_Vector, SUNMatrix out, void* data, N_Vector, N_Vector,
             N_Vector) {
    const Sparse& j = static_cast<Problem*>(data)->jacobian;
    std::copy_n(j.outerIndexPtr(), j.outerSize() + 1, SUNSparseMatrix_IndexPointers(out));
    std::copy_n(j.innerIndexPtr(), j.nonZeros(), SUNSparseMatrix_IndexValues(out));
    std::copy_n(j.valuePtr(), j.nonZeros(), SUNSparseMatrix_Data(out));
    return 0;
}

void check(int flag, const char* what) {
    if (flag < 0)
        throw std::runtime_error(std::string("CVODE failed in ") + what);
}

/// Of system.hpp's equation, with the integral of u behind u.
Sparse jacobian_of(const transport::System& s, bool reacts) {
    const int n = static_cast<int>(s.capacity.size());
    std::vector<Eigen::Triplet<double>> entries;
    for (int column = 0; column < n; ++column)
        for (Sparse::InnerIterator it(s.conductance, column); it; ++it)
            if (!(s.held && it.row() == s.bath()))
                entries.emplace_back(it.row(), column, -it.value() / s.capacity[it.row()]);
    for (int row = 0; row < n; ++row) {
        const bool bath = s.held && row == s.bath();
        entries.emplace_back(row, row, bath ? -s.bath_loss : -s.loss[row]);
        if (reacts) {
            entries.emplace_back(n + row, row, 1.);
            entries.emplace_back(n + row, n + row, 0.);
        }
    }
    Sparse j(reacts ? 2 * n : n, reacts ? 2 * n : n);
    j.setFromTriplets(entries.begin(), entries.end());
    return j;
}

} // namespace

std::vector<Vector> by_klu(const transport::System& system, const std::vector<double>& times,
                           double relative, bool reacts) {
    Problem p{jacobian_of(system, reacts)};
    const auto n = system.capacity.size(), size = p.jacobian.rows();
    SUNContext context = nullptr;
    check(SUNContext_Create(nullptr, &context), "SUNContext_Create");
    N_Vector y = N_VNew_Serial(size, context), absolute = N_VNew_Serial(size, context);
    map(y).setZero();
    map(y).head(n) = system.initial;
    const double scale = relative / 10 * system.initial.maxCoeff();
    map(absolute).setConstant(scale * times.back());
    map(absolute).head(n).setConstant(scale);
    void* memory = CVodeCreate(CV_BDF, context);
    check(CVodeInit(memory, right_side, 0, y), "CVodeInit");
    check(CVodeSVtolerances(memory, relative, absolute), "CVodeSVtolerances");
    check(CVodeSetUserData(memory, &p), "CVodeSetUserData");
    check(CVodeSetMaxNumSteps(memory, 100000), "CVodeSetMaxNumSteps");
    SUNMatrix matrix = SUNSparseMatrix(size, size, p.jacobian.nonZeros(), CSC_MAT, context);
    SUNLinearSolver solver = SUNLinSol_KLU(y, matrix, context);
    check(CVodeSetLinearSolver(memory, solver, matrix), "CVodeSetLinearSolver");
    check(CVodeSetJacFn(memory, jacobian), "CVodeSetJacFn");
    std::vector<Vector> states;
    for (const double t : times) {
        double reached = 0;
        check(CVode(memory, t, y, &reached, CV_NORMAL), "CVode");
        states.push_back(map(y));
    }
    CVodeFree(&memory);
    SUNLinSolFree(solver);
    SUNMatDestroy(matrix);
    N_VDestroy(absolute);
    N_VDestroy(y);
    SUNContext_Free(&context);
    return states;
}

} // namespace tidemark::bench
